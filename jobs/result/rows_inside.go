package result

// The figures that show lines of bills: as changes of the pack, and of the car beside it.
const (
	PackLines = "lines of the pack"
	CarLines  = "lines of the car"
)

// An InsideRow is a row of inside.parquet.
type InsideRow struct {
	Choice     int64   `column:"choice" meaning:"number of the choice, 0 without choices"`
	Figure     string  `column:"figure" meaning:"the figure that shows it"`
	Output     string  `column:"output" meaning:"full name of the quantity"`
	Vehicle    string  `column:"vehicle" meaning:"its vehicle"`
	Quantity   string  `column:"quantity" meaning:"the part of the name behind the vehicle"`
	Unit       string  `column:"unit" meaning:"unit of every value in the row"`
	Rows       int64   `column:"rows" meaning:"draws evaluated: the first ones of the sample"`
	Infeasible int64   `column:"infeasible" meaning:"draws without a value; all statistics are over the others"`
	Mean       float64 `column:"mean" unit:"unit of the row" meaning:"mean"`
	P05        float64 `column:"p05" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`
	P25        float64 `column:"p25" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`
	P50        float64 `column:"p50" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`
	P75        float64 `column:"p75" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`
	P95        float64 `column:"p95" unit:"unit of the row" meaning:"percentile, definition 7 of Hyndman and Fan 1996"`
	Meaning    string  `column:"meaning" meaning:"what it is"`
}
