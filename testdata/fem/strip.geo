// A charged strip of full width W between two earthed planes, half of it: the
// meter plane at y = 0, the strip at y = D, the plane behind at y = D + H; x = 0 is
// the plane of symmetry. Lengths in m. K scales the mesh.
DefineConstant[ W = 0.1, D = 0.025, H = 0.1, K = 1 ];
T = D + H; A = W/2 + 8*T; // e^(-8 pi) at the open end
lc = 1;
Point(1) = {0, 0, 0, lc}; Point(2) = {A, 0, 0, lc}; Point(3) = {A, T, 0, lc}; Point(4) = {0, T, 0, lc};
Point(5) = {0, D, 0, lc}; Point(6) = {W/2, D, 0, lc};
Line(1) = {1, 2}; Line(2) = {2, 3}; Line(3) = {3, 4}; Line(4) = {4, 5}; Line(5) = {5, 1}; Line(6) = {5, 6};
Curve Loop(1) = {1, 2, 3, 4, 5};
Plane Surface(1) = {1};
Curve{6} In Surface{1};
Field[1] = Distance; Field[1].NodesList = {1};
Field[2] = MathEval; Field[2].F = Sprintf("%g*(0.001 + 0.15*F1)", K);
Field[3] = Distance; Field[3].NodesList = {6};
Field[4] = MathEval; Field[4].F = Sprintf("%g*(0.0005 + 0.15*F3)", K);
Field[5] = MathEval; Field[5].F = Sprintf("%g*%g", K, T/8);
Field[6] = Min; Field[6].FieldsList = {2, 4, 5};
Background Field = 6;
Mesh.CharacteristicLengthExtendFromBoundary = 0;
Mesh.CharacteristicLengthFromPoints = 0;
Physical Surface(1) = {1};
Physical Curve(2) = {6};
Physical Curve(3) = {1, 2, 3};
