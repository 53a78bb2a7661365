// A web that leaves an earthed roller of radius R, with an earthed meter plane at
// the distance D above it. The origin is the line where the web leaves; the web
// lies on y = 0 for 0 < x < L. Lengths in m. K scales the mesh.
DefineConstant[ R = 0.05, D = 0.025, X = 0.03, K = 1, L = 200 ];
B = 2*L;
lc = 1; // sizes come from the fields below

Point(1) = {-B, D, 0, lc};  Point(2) = {0, D, 0, lc};  Point(3) = {X, D, 0, lc};  Point(4) = {B, D, 0, lc};
Point(5) = {0, D-B, 0, lc};
Point(10) = {0, 0, 0, lc};   Point(11) = {X, 0, 0, lc};  Point(12) = {L, 0, 0, lc};
Point(20) = {0, -R, 0, lc};  Point(21) = {R, -R, 0, lc}; Point(22) = {0, -2*R, 0, lc}; Point(23) = {-R, -R, 0, lc};

Line(1) = {1, 2}; Line(2) = {2, 3}; Line(3) = {3, 4};
Circle(4) = {4, 2, 5}; Circle(5) = {5, 2, 1};
Circle(6) = {10, 20, 21}; Circle(7) = {21, 20, 22}; Circle(8) = {22, 20, 23}; Circle(9) = {23, 20, 10};
Line(10) = {10, 11}; Line(11) = {11, 12};

Curve Loop(1) = {1, 2, 3, 4, 5};
Curve Loop(2) = {6, 7, 8, 9};
Plane Surface(1) = {1, 2};
Curve{10, 11} In Surface{1};

// Sizes grow with the distance from the meter's spot, from the roller and from
// the web.
Field[1] = Distance; Field[1].NodesList = {3, 11};
Field[2] = MathEval; Field[2].F = Sprintf("%g*(0.0008 + 0.12*F1)", K);
Field[3] = Distance; Field[3].NNodesByEdge = 400; Field[3].EdgesList = {6, 9};
Field[4] = MathEval; Field[4].F = Sprintf("%g*(0.0006 + 0.12*F3)", K);
Field[5] = Distance; Field[5].NodesList = {10, 2};
Field[6] = MathEval; Field[6].F = Sprintf("%g*(0.0008 + 0.15*F5)", K);
Field[7] = Distance; Field[7].NNodesByEdge = 200; Field[7].EdgesList = {7, 8};
Field[8] = MathEval; Field[8].F = Sprintf("%g*(0.005 + 0.2*F7)", K);
Field[9] = Min; Field[9].FieldsList = {2, 4, 6, 8};
Background Field = 9;
Mesh.CharacteristicLengthExtendFromBoundary = 0;
Mesh.CharacteristicLengthFromPoints = 0;

Physical Surface(1) = {1};
Physical Curve(2) = {10, 11};
Physical Curve(3) = {1, 2, 3, 4, 5, 6, 7, 8, 9};
