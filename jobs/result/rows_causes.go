package result

// TotalCause is the cause of the row that all causes of an output add up to.
const TotalCause = "total"

// A CauseRow is a row of attribution.parquet.
type CauseRow struct {
	Choice     int64   `column:"choice" meaning:"number of the choice, 0 without choices"`
	Account    string  `column:"account" meaning:"always empty: one account of the study"`
	About      string  `column:"about" meaning:"candidate: what makes it differ from the baseline"`
	Output     string  `column:"output" meaning:"what is divided: its value less that of a candidate which is the baseline"`
	Cause      string  `column:"cause" meaning:"in which quantities the two vehicles differ; total: all of them"`
	PartOf     string  `column:"part_of" meaning:"the cause to which the parts add up; empty for causes, which add up to total"`
	Mean       float64 `column:"mean" unit:"unit of the row" meaning:"mean over the draws of what the cause brings, averaged over every order in which the causes could come (Shapley value)"`
	MeanLow    float64 `column:"mean_low" unit:"unit of the row" meaning:"lower end of the interval of mean"`
	MeanHigh   float64 `column:"mean_high" unit:"unit of the row" meaning:"upper end of the interval of mean"`
	P05        float64 `column:"p05" unit:"unit of the row" meaning:"percentile over the draws"`
	P50        float64 `column:"p50" unit:"unit of the row" meaning:"percentile over the draws"`
	P95        float64 `column:"p95" unit:"unit of the row" meaning:"percentile over the draws"`
	Unit       string  `column:"unit" meaning:"unit of every value in the row; of a change: points of per cent"`
	Rows       int64   `column:"rows" meaning:"draws that were divided: the first ones of each replicate"`
	Infeasible int64   `column:"infeasible" meaning:"draws among them without a value in some combination of the causes"`
	ModelRuns  int64   `column:"model_runs" meaning:"evaluations of the output that the shares are made of"`
	Orders     int64   `column:"orders" meaning:"random orders that stand for all; 0: all"`
}
