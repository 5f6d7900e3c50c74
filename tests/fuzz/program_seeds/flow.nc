G21 G90
o6 sub
#2=[#1*2]
o1 while [#2 gt 0]
#2=[#2-1]
o2 if [#2 eq 1]
o1 continue
o2 elseif [#2 lt -1]
o1 break
o2 else
G0 X#2
o2 endif
o1 endwhile
o3 repeat [2]
G91 G1 X1 F1
o3 endrepeat
o4 do
#2=[#2+1]
o4 while [#2 lt 3]
o6 endsub
o6 call [3] [4]
M98 P100 L2
M30
O100
G0 X1
M99
