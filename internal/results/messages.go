package results

// What stands around the results, in English.
const (
	txtBoard          = "%d machines: %s"
	txtBoardBy        = "%s %s: %s"
	txtBoardNone      = "not said"
	txtLeft           = "Couplings inside their limits, which are left out: %d."
	txtSteps          = "Also step shims, cut to size: %s, under %s %s."
	txtStepsFrom      = "from the %s: %s"
	txtStepsCount     = "Bent feet that need step shims as well: %d. They are cut to size and not counted here; the pick list has them."
	txtChosenTogether = ", chosen together"
	txtNoChange       = "nothing to do"
	txtNotCounted     = "not counted"
	txtAssumed        = "The job lists no stock; usual thicknesses were assumed, not counted."
	txtNoFeet         = "no feet"
	msgNoSuchList     = "there is no list %q; the lists are pick, order and feet"
	txtCount          = "%d couplings: %d inside, %d outside, %d too close to call, %d not judged\n"
	txtUnits          = "Lengths in %s, slopes in %s; ± is expanded, k = 2. Shims: + add, - take out. A machine inside its limit stays as it is, but for a soft foot.\n"
	txtNothing        = "no couplings\n"
	txtNoTrains       = "No row of the Machines sheet has a train."
	msgNotComputed    = "not computed"
	wordStays         = "stays"
	wordLeave         = "leave"
	wordOf            = " of "
	txtSoftFoot       = "Soft foot"
	txtHistoryHow     = "Compared is what was found now with what was left then; ± is the root of the squares of both."
	txtHistoryNone    = "No older job is set beside this one."
)
