package result

// A LeverRow is a row of levers.parquet.
type LeverRow struct {
	Choice     int64   `column:"choice" meaning:"number of the choice, 0 without choices"`
	Account    string  `column:"account" meaning:"always empty: one account of the study"`
	Vehicle    string  `column:"vehicle" meaning:"the vehicle that is changed, and no other"`
	Lever      string  `column:"lever" meaning:"what is changed in it"`
	Text       string  `column:"text" meaning:"by how much, all else held; machines, coast-down and gross mass stay those of the car as built"`
	Output     string  `column:"output" meaning:"what is told of the vehicle, or what a claim speaks of"`
	Mean       float64 `column:"mean" unit:"unit of the row" meaning:"mean over the draws of the output with the change less the output without"`
	MeanLow    float64 `column:"mean_low" unit:"unit of the row" meaning:"lower end of the interval of mean"`
	MeanHigh   float64 `column:"mean_high" unit:"unit of the row" meaning:"upper end of the interval of mean"`
	P05        float64 `column:"p05" unit:"unit of the row" meaning:"percentile over the draws"`
	P50        float64 `column:"p50" unit:"unit of the row" meaning:"percentile over the draws"`
	P95        float64 `column:"p95" unit:"unit of the row" meaning:"percentile over the draws"`
	Unit       string  `column:"unit" meaning:"unit of every value in the row; of a change: points of per cent"`
	Rows       int64   `column:"rows" meaning:"draws that were changed: the first ones of each replicate"`
	Infeasible int64   `column:"infeasible" meaning:"draws among them without a value, with the change or without"`
}
