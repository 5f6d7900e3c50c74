(cribbage board, front 1 of 5: holes in the waste margin)
(work zero: front left corner, top of the stock)
(held by: clamp S, clamp N)
(pilot holes for the four screws, drill 1/8 in, tool 2)
(dowel holes 8.1 mm for the flip, flat 6 mm, tool 1)
G21 G90 G17 G94
G54 G40 G49 G80
T2 M6
S10000 M3
G4 P5
G0 Z40
(pilot holes, 15 deep)
G98 G83 X15 Y20 Z-15 R3.5 Q3 F500
X15 Y110
X465 Y110
X465 Y20
G80
M5
T1 M6
S18000 M3
G4 P5
G0 Z40
(dowel hole, left)
X15.05 Y45
Z2
G1 Z0 F800
G3 X15.05 Y45 Z-1.857 I-1.05 J0 F900
G3 X15.05 Y45 Z-3.714 I-1.05 J0
G3 X15.05 Y45 Z-5.571 I-1.05 J0
G3 X15.05 Y45 Z-7.429 I-1.05 J0
G3 X15.05 Y45 Z-9.286 I-1.05 J0
G3 X15.05 Y45 Z-11.143 I-1.05 J0
G3 X15.05 Y45 Z-13 I-1.05 J0
G3 X15.05 Y45 I-1.05 J0
(dowel hole, right)
G0 Z10
X467.05
Z2
G1 Z0 F800
G3 X467.05 Y45 Z-1.857 I-1.05 J0 F900
G3 X467.05 Y45 Z-3.714 I-1.05 J0
G3 X467.05 Y45 Z-5.571 I-1.05 J0
G3 X467.05 Y45 Z-7.429 I-1.05 J0
G3 X467.05 Y45 Z-9.286 I-1.05 J0
G3 X467.05 Y45 Z-11.143 I-1.05 J0
G3 X467.05 Y45 Z-13 I-1.05 J0
G3 X467.05 Y45 I-1.05 J0
(park)
G0 Z40
X-40 Y10
M5
M30
