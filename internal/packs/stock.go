package packs

import "shimsheet/internal/words"

// A StockFoot is one foot of the job.
type StockFoot struct {
	ID        string
	Change    float64   // mm, positive: to rise
	Tolerance float64   // mm; 0: that of the options
	InPlace   []float64 // mm; nil: not listed, empty: bare base
	Size      string    // size label; see StockItem.Fits
	MaxPieces int       // 1 to 8; 0: that of the options
	Machine   int       // which machine it belongs to, by any number; for ByMachines
	Priority  int       // of the machine, 1 first; 0: none, after all others
}

// StockOptions are the settings of a whole job.
type StockOptions struct {
	Tolerance float64 // mm; 0: tables.PackToleranceMM
	MaxPieces int     // 1 to 8; 0: tables.MaxPieces

	ByMachines bool // whole machines are counted, by priority, and not feet; see StockPlan

	ReturnRemoved bool // pieces taken out of the feet go back into the box and serve other feet

	// FewestThicknesses chooses what to carry: the fewest stock items with which every foot that can be met is met, then the fewest pieces,
	// then the least error. Counts are then no bound but only lessen what is ordered. Up to 14 items that any foot can use are searched in full.
	FewestThicknesses bool

	// Spare allowance on the order list: the greater of SparePercent of the pieces to order, rounded up, and SpareMin pieces, for every item
	// that is ordered at all.
	SparePercent float64
	SpareMin     int

	Nodes    int                        // nodes of the exact search in all; 0: 1,000,000. A count and not a clock: the same job gives the same plan
	Progress func(done, total int) bool // told now and then; false stops the work, and the plan is what there is by then. May be nil
}

// A PickStatus says how a foot of the job fares.
type PickStatus uint8

// The ways a foot fares.
const (
	PickMet      PickStatus = iota // has its pack
	PickShort                      // a pack within the tolerance could be made, but not with what is left in the box
	PickNoPack                     // no pack of the stock is within the tolerance, however many pieces there were; Pack is the nearest
	PickUnlisted                   // to be lowered, pieces not listed: Pack is what to take out
	PickBelow                      // to be lowered below the bare base
	PickNone                       // the change is not a number
	PickWaits                      // by machines: could be had of what is left, but not every foot of its machine could, so that nothing is put under it
	PickStopped                    // not reached before the work was stopped
)

var pickText = [...]words.Key{words.PackStatusMet, words.PackStatusShort, words.PackStatusNoPack, words.PackStatusUnlisted, words.PackStatusBelow, words.PackStatusNoChange, words.PackStatusWaits, words.PackStatusNotReached}

// String is the status in a few words.
func (s PickStatus) String() string { return pickText[s].String() }

// Code is the status as other programs read it, in every language the same.
func (s PickStatus) Code() string { return pickText[s].Code() }

// Short says that the pack is not to be had now, so that none of it is taken from the box.
func (s PickStatus) Short() bool { return s == PickShort || s == PickWaits }

// A Pick is what one foot gets. For PickShort and PickWaits Change is the pack to make when the order has come: it is in the order list and takes nothing
// from the box.
type Pick struct {
	Status PickStatus
	Change
	Items []int // index of the stock item of each piece of Put; from len(stock) on, of StockPlan.Returned
	Lack  []int // PickShort: the items of Put that the box lacks once the feet that are met and the short ones before have theirs
}

// An OrderLine is one stock item of the job.
type OrderLine struct {
	Item    int  // index into the stock; from len(stock) on, of StockPlan.Returned
	Used    int  // pieces put under feet that are met
	Back    int  // pieces from feet that went back to the item, with ReturnRemoved
	Missing int  // pieces wanted for feet that are short, beyond what is left
	Counted bool // pieces on hand are known
	Order   int  // pieces to order with the spare allowance: for Missing, and for Used − Back when pieces are not counted
}

// A ShareClass is the machines that are served at one turn; see [StockPlan].
type ShareClass struct {
	Priority int  // as given; 0: none
	Helpless bool // machines with a foot that no stock helps, so that none of them can be finished
	Asked    int
	Met      int
	Bound    int // no plan that meets as many of every class before meets more
}

// A StockPlan shares the box out over the feet of a job.
//
// A foot's own pack is the one by the rule of [Packer.Change] if it had the box for itself. Where the box holds enough for all of these
// together, each foot gets its own. Otherwise (Contended) the objective is, in this order:
//
//   - by feet: the most feet met;
//   - by machines (StockOptions.ByMachines): the most machines of the first class met whole, of the plans that do so the most of the second, and so on. A machine is met
//     whole when every one of its feet that the stock could meet is; else none of its feet gets anything, whatever is left. The first class is the machines of the
//     least priority number, those without a number come after all numbered ones; after all of these, in the same order, come the machines with a foot that no stock
//     helps (PickNoPack, PickBelow, PickNone), for they cannot be finished whatever they get. A machine of which nothing could be met is in no class;
//   - then the least sum of |Error| over the feet that are met, each counted to the whole nanometre;
//   - then the fewest pieces in their packs.
type StockPlan struct {
	Picks     []Pick // one a foot
	Asked     int    // feet that could be met if nothing were short
	Met       int
	Error     float64 // mm, sum of |Error| over the feet that are met
	Pieces    int     // in the packs of the feet that are met
	Contended bool    // the box does not hold every foot's own pack

	// Proved: no plan is better by the objective (of FewestThicknesses if that was asked). Otherwise BoundFeet is a number of feet that
	// no plan exceeds (by machines: Asked), GapFeet = BoundFeet − Met, and no plan that meets as many feet, or as many machines of every class, has a smaller
	// error than ErrorBound (mm). The bounds rest on prices at which whole numbers are added up, not on rounding.
	Proved     bool
	BoundFeet  int
	GapFeet    int
	ErrorBound float64
	Shares     []ShareClass // by machines: the classes in their order

	Carry      []int       // FewestThicknesses: the stock items to carry, in the order of the stock
	CarryBound int         // fewer items than this cannot do; equal to len(Carry) when that is the least
	Returned   []StockItem // with ReturnRemoved: thicknesses that come out from under feet and that the stock does not list; stock like any other, none on hand
	Order      []OrderLine // a line an item of the stock, and then of Returned
	Nodes      int         // of the exact search
	Cancelled  bool        // Progress stopped the work
}

// Allocate shares a stock out over the feet of a whole job. Feet that compete for no common item are parts by themselves. A plan made greedily is bettered by branch
// and bound on a linear relaxation until it is proved, or until a fixed count of work is done; then the gap to a bound is stated. The same job gets the same plan
// on every machine.
//
// It returns an error for an empty stock, an item or a setting that is not possible, and names a foot (from 1, with its ID) whose pieces in
// place, tolerance or number of pieces are not possible. A foot whose change is not a number or too low is no error but a status.
func Allocate(stock []StockItem, feet []StockFoot, opt *StockOptions) (*StockPlan, error) {
	j, err := newJob(stock, feet, opt)
	if err != nil {
		return nil, err
	}
	for f := range j.feet {
		if f%32 == 0 && !j.tell(f) {
			break
		}
		j.prepare(f)
	}
	switch {
	case j.plan.Cancelled:
		j.plan.BoundFeet = len(feet)
	case j.opt.FewestThicknesses:
		j.carry()
	default:
		j.share()
	}
	j.finish()
	return j.plan, nil
}
