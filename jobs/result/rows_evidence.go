package result

// The tables of what was measured.
var (
	Evidence = declare[EvidenceRow](EvidenceTable, "something that was measured")
	// Earlier are the tables of claims and of statistics as they were before it.
	Earlier = struct {
		Claims  *Typed[ClaimRow]
		Summary *Typed[SummaryRow]
	}{declare[ClaimRow](ClaimsBefore, "a claim, before what was measured"), declare[SummaryRow](SummaryBefore, "an input or output, before what was measured")}
)

// An EvidenceRow is a row of evidence.parquet.
type EvidenceRow struct {
	Account          string         `column:"account" meaning:"always empty: one account of the study"`
	Fact             int64          `column:"fact" meaning:"number of the fact, from 0, in the order of the study"`
	Of               string         `column:"of" meaning:"full name of the output or input that was measured"`
	Text             string         `column:"text" meaning:"what was measured, as it is written"`
	Value            float64        `column:"value" unit:"unit of the row" meaning:"what was measured; of between the middle"`
	SD               float64        `column:"sd" unit:"unit of the row" meaning:"standard deviation of its error, in K where the unit is degC; null where it has none"`
	Unit             string         `column:"unit" meaning:"unit of value and sd"`
	PriorPercentile  float64        `column:"prior_percentile" unit:"1" meaning:"where it lies among the readings to be expected before any fact: 0 below all of them, 1 above"`
	OthersPercentile float64        `column:"others_percentile" unit:"1" meaning:"the same after all other facts; null where they leave no draw"`
	Contradicts      int64          `column:"contradicts" meaning:"1 where one of the two lies below 0.005 or above 0.995"`
	Odd              int64          `column:"odd" meaning:"1 for the fact that lies furthest out, where one contradicts"`
	ESS              float64        `column:"ess" unit:"1" meaning:"effective rows after all facts (Kish 1965): draws of equal weight that would tell as much"`
	LargestShare     float64        `column:"largest_share" unit:"1" meaning:"share of the heaviest draw in the weight of all"`
	ParetoK          float64        `column:"pareto_k" unit:"1" meaning:"shape of the tail of the weights of the sample's draws, whatever the method; null where they have none"`
	ParetoLimit      float64        `column:"pareto_limit" unit:"1" meaning:"above it weights tell no intervals and percentiles"`
	LogEvidence      float64        `column:"log_evidence" unit:"1" meaning:"natural logarithm of the mean likelihood before the facts: of densities in SI, of rounded readings of their chances"`
	Method           EvidenceMethod `column:"method" meaning:"how the facts were taken in"`
	Source           string         `column:"source" meaning:"where the fact is from"`
	HowKnown         string         `column:"how_known" meaning:"how the study says it is known"`
}

// EvidenceMethod says how facts were taken in.
type EvidenceMethod string

// ByWeights says that draws made before the facts have weights.
const ByWeights EvidenceMethod = "weights"

// ByTempering says that populations of draws were moved to the facts.
const ByTempering EvidenceMethod = "tempered"

// Terms explains the words.
func (EvidenceMethod) Terms() []Term {
	return []Term{{Word: string(ByWeights), Meaning: "each draw counts as much as the facts are likely, were it true: its weight in samples"},
		{Word: string(ByTempering), Meaning: "16 populations of draws are moved from what was believed to what is believed after the facts, by their likelihood to powers up to 1, with 10 Markov chain moves a round: where weights would leave fewer than 1000 effective rows and 1 in 20, or have too heavy a tail. Tables after the facts are of the rows in tempered.parquet",
			Source: "Del Moral, Doucet and Jasra (2006), J. R. Stat. Soc. B 68; from memory"}}
}

// Taken says whether a figure was made before or after the facts.
type Taken string

// Before and after the facts.
const (
	BeforeFacts Taken = "before"
	AfterFacts  Taken = "after"
)

// Terms explains the words.
func (Taken) Terms() []Term {
	return []Term{
		{Word: string(BeforeFacts), Meaning: "of the inputs as the study states them, before what was measured"},
		{Word: string(AfterFacts), Meaning: "after what was measured, from weighted rows"},
	}
}
