package sentences

// The worked train, a row a coupling; the gear is Stationary for both.
var trainText = []string{
	"Machines: Train=T1 | Machine=Motor | Stationary=Gear | Coupling to stationary plane=100 | Coupling to movable plane=100 | Coupling to front feet=300 | Front to rear feet=1200 | Stationary near support=300 | " +
		"Stationary far support=900 | Offset limit=0.1 | Slope limit=0.5 | Movable rim 12=0 | Movable rim 3=-0.39 | Movable rim 6=-0.62 | Movable rim 9=-0.23 | Stationary rim 12=0 | Stationary rim 3=0.41 | " +
		"Stationary rim 6=0.58 | Stationary rim 9=0.17",
	"Machines: Train=t1 | Machine=Pump | Stationary=GEAR | Coupling to stationary plane=100 | Coupling to movable plane=100 | Coupling to front feet=200 | Front to rear feet=600 | Stationary near support=400 | " +
		"Stationary far support=1000 | Offset limit=0.1 | Slope limit=0.5 | Movable rim 12=0 | Movable rim 3=0.26 | Movable rim 6=-0.10 | Movable rim 9=-0.36 | Stationary rim 12=0 | Stationary rim 3=-0.14 | " +
		"Stationary rim 6=0.30 | Stationary rim 9=0.44",
}
