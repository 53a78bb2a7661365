// A bare earthed disc (the face of a meter) of radius B at the height D over a
// charged disc of radius S that lies at the height H over an earthed plane.
// Axisymmetric: x is the radius, y the height over the plane. Lengths in m. K
// scales the mesh.
DefineConstant[ B = 0.035, S = 0.6, D = 0.025, H = 0.3, K = 1, OUT = 60 ];
lc = 1;
Point(1) = {0, 0, 0, lc}; Point(2) = {OUT, 0, 0, lc}; Point(3) = {0, OUT, 0, lc};
Point(4) = {0, H, 0, lc}; Point(5) = {S, H, 0, lc};
Point(6) = {0, H+D, 0, lc}; Point(7) = {B, H+D, 0, lc};
Line(1) = {1, 2}; Circle(2) = {2, 1, 3}; Line(3) = {3, 6}; Line(4) = {6, 4}; Line(5) = {4, 1};
Line(6) = {4, 5}; Line(7) = {6, 7};
Curve Loop(1) = {1, 2, 3, 4, 5};
Plane Surface(1) = {1};
Curve{6, 7} In Surface{1};
Field[1] = Distance; Field[1].NodesList = {6};
Field[2] = MathEval; Field[2].F = Sprintf("%g*(0.001 + 0.15*F1)", K);
Field[3] = Distance; Field[3].NodesList = {7};
Field[4] = MathEval; Field[4].F = Sprintf("%g*(0.00001 + 0.1*F3)", K);
Field[5] = Distance; Field[5].NodesList = {5};
Field[6] = MathEval; Field[6].F = Sprintf("%g*(0.0003 + 0.15*F5)", K);
Field[7] = Distance; Field[7].NodesList = {4, 1};
Field[8] = MathEval; Field[8].F = Sprintf("%g*(0.003 + 0.2*F7)", K);
Field[9] = Min; Field[9].FieldsList = {2, 4, 6, 8};
Background Field = 9;
Mesh.CharacteristicLengthExtendFromBoundary = 0;
Mesh.CharacteristicLengthFromPoints = 0;
Physical Surface(1) = {1};
Physical Curve(2) = {6};
Physical Curve(3) = {1, 2, 7};
