G20 G17 G90 F16 M3 S1234
g81 x3 y4 r0.2 z-1.1
x1 y0 r0 g91 l3
g82 g90 x4 y5 r0.2 z-1.1 p0.6
g83 x5 y6 r0.2 z-1.1 q0.21
g84 x6 y7 r0.2 z-1.1
g85 x7
g86 x8 p9
g87 x9 y10 r0.2 z-1.1 i0.231 j-0 k-3
g88 x1 p0.3
g89 x2 p1
G73 x3 q1
g18
g81 x1 y-2 r2 z3
g19
x-3 r1
m2
