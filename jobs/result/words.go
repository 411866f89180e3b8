package result

// The closed lists of words, a type each: whoever reads a table meets no other. A new word is a constant here and its
// explanation beside it.
type (
	Of             string // what a figure of sensitivity is of
	Order          string // what kind of figure it is
	Method         string // how it was made
	Form           string // of a bar
	Shape          string // of a curve
	Role           string // what a stored column is
	Origin         string // where its number comes from
	ChanceMethod   string // how the interval of a chance was made
	IntervalMethod string // how the intervals of a summary were made
	Verdict        string // on a claim
	Sense          string // of an announcement
	Side           string // of a limit
	Turning        string // of which side of a claim a point is the nearest
	Reached        string // how the point was found
	Learning       string // how the worth of a measurement was estimated
)

// What a figure is of.
const (
	OfOutput Of = "output"
	OfMargin Of = "margin"
	OfHolds  Of = "holds"
)

// How a figure was made.
const (
	SwappedBothWays Method = "swapped_both_ways"
	CannotReach     Method = "none"
	ScreenedOut     Method = "screened"
	RandomOrders    Method = "random_orders"
	AllSubsets      Method = "all_subsets"
	Classes         Method = "classes"
	LeastSquares    Method = "least_squares"
	FewSteps        Method = "elementary_effects"
)

// What kind of figure it is.
const (
	FirstOrder     Order = "first"
	TotalOrder     Order = "total"
	GroupOrder     Order = "group"
	GroupTotal     Order = "group_total"
	SecondOrder    Order = "second"
	ShapleyEffect  Order = "shapley"
	WithCompanions Order = "first_with_companions"
	KSDistance     Order = "ks_distance"
	DeltaDistance  Order = "delta_distance"
	SRC            Order = "src"
	SRRC           Order = "srrc"
	R2             Order = "r2"
	RankR2         Order = "rank_r2"
	MeanEffect     Order = "mean_effect"
	AbsoluteEffect Order = "mean_absolute_effect"
	EffectSD       Order = "sd_of_effects"
)

// Forms of a bar, and shapes of the curve behind it.
const (
	OneAtATime  Form  = "one_at_a_time"
	Conditional Form  = "conditional"
	OneWay      Shape = "one_way"
	Turns       Shape = "turns"
)

// What a stored column is.
const (
	RoleInput        Role = "input"
	RoleConstant     Role = "constant"
	RoleFormula      Role = "formula"
	RoleOutput       Role = "output"
	RoleIntermediate Role = "intermediate"
	RoleClaim        Role = "claim"
)

// WeightedChance says that an interval is of weighted rows.
const WeightedChance ChanceMethod = "weighted"

// RareChance says that an interval is of populations that climbed to a rare event.
const RareChance ChanceMethod = "rare"

// What is said of a claim.
const (
	Stands    Verdict = "stands"
	InDoubt   Verdict = "in_doubt"
	Falls     Verdict = "falls"
	TooFew    Verdict = "too_few_draws"
	NotJudged Verdict = "not_judged"
)

// Chances from which a claim stands, and up to which it falls: 19 and 1 of 20. Common
// practice, no source.
const StandsFrom, FallsTo = 0.95, 0.05

// What an announcement means, and on which side of its limit a claim holds.
const (
	AtLeast Sense = "at_least"
	AtMost  Sense = "at_most"
	About   Sense = "about"

	Above  Side = "above"
	Below  Side = "below"
	Within Side = "within"
)

// How the worth of a measurement was estimated.
const (
	LearntByClasses Learning = "classes"
	LearntByPairs   Learning = "pair"
	LearntByNone    Learning = "none"
)

// Of which side a point is the nearest, and how it was found.
const (
	TurnsToHold Turning = "holds"
	TurnsToFail Turning = "fails"

	AtMinimum  Reached = "point"
	NearestMet Reached = "nearest_met"
	OutOfReach Reached = "out_of_reach"
)

// Where a number comes from.
const (
	Stated   Origin = "stated"
	Default  Origin = "default"
	Computed Origin = "computed"
)
