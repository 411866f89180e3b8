package result

// A ReadingRow is a row of readings.parquet.
type ReadingRow struct {
	Combination int64   `column:"combination" meaning:"number of the combination of readings of all claims; 0: as stated"`
	Claim       string  `column:"claim" meaning:"name of the claim; empty: all of them in the same draw"`
	Of          string  `column:"of" meaning:"the quantity that the announcement is read as; empty for a condition of the study's own and for all together"`
	Text        string  `column:"text" meaning:"the condition that was tested"`
	Chance      float64 `column:"chance" unit:"1" meaning:"share of the draws in which it holds so read, weighted by what was measured; an infeasible draw does not hold"`
	Low         float64 `column:"low" unit:"1" meaning:"lower end of the interval of the chance, which is sampling error alone"`
	High        float64 `column:"high" unit:"1" meaning:"upper end of the interval of the chance, which is sampling error alone"`
	Method      string  `column:"method" meaning:"how the interval was made, in the words of claims.parquet"`
	Held        int64   `column:"held" meaning:"draws in which it holds"`
	Rows        int64   `column:"rows" meaning:"all draws"`
}
