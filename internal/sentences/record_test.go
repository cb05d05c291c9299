package sentences

const recordMachines = `Machine,Speed [rpm],Method,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9,Movable sag at 6,Stationary sag at 6,Note
P-1,1480,reverse indicator,100,120,300,600,0,0.01,0.00,-0.01,0,0.01,0.02,0.01,0,0,"a tab	and a \ in it"
P-2,1480,reverse indicator,100,120,300,600,0,0.30,0.50,0.20,0,0.10,0.20,0.10,0,0,
`
