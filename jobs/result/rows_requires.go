package result

// A RequiredRow is a row of requires.parquet.
type RequiredRow struct {
	Choice        int64   `column:"choice" meaning:"number of the choice, 0 without choices"`
	Account       string  `column:"account" meaning:"always empty: one account of the study"`
	Claim         string  `column:"claim" meaning:"the claim"`
	Input         string  `column:"input" meaning:"the input; what is drawn as one by what shows it"`
	Turning       Turning `column:"side" meaning:"what the point is the nearest of: where the claim holds, or, where it holds at the middle of all inputs, where it fails"`
	Central       float64 `column:"central" unit:"unit of the row" meaning:"the input's middle"`
	Needed        float64 `column:"needed" unit:"unit of the row" meaning:"where it lies at the most probable point at which the claim turns, by the inputs as stated, before evidence: one most favourable combination, with all other inputs there too"`
	Unit          string  `column:"unit" meaning:"unit of the values in the row"`
	Percentile    float64 `column:"percentile" unit:"1" meaning:"share of what is believed of the input that lies below needed"`
	Distance      float64 `column:"distance" unit:"1" meaning:"of needed from the middle, in normal scores, with its sign"`
	Rank          int64   `column:"rank" meaning:"1: the input that must move furthest"`
	TypicalP10    float64 `column:"typical_p10" unit:"unit of the row" meaning:"10th percentile of the input in the draws that hold, null with fewer than 50"`
	TypicalP50    float64 `column:"typical_p50" unit:"unit of the row" meaning:"their median"`
	TypicalP90    float64 `column:"typical_p90" unit:"unit of the row" meaning:"their 90th percentile"`
	HalfAt        float64 `column:"half_at" unit:"unit of the row" meaning:"value of the input at which the claim's chance is one half, all else as believed; null outside its 1st to 99th percentile"`
	TurnsAt       float64 `column:"turns_at" unit:"unit of the row" meaning:"likewise where the verdict becomes another, by the chance alone; the one next to the middle"`
	AloneAt       float64 `column:"alone_at" unit:"unit of the row" meaning:"value at which the claim turns with all other inputs at their middles, beliefs about this one aside; null where none within its limits does"`
	PointDistance float64 `column:"point_distance" unit:"1" meaning:"of the point from the middle of all inputs, in normal scores"`
	FirstOrder    float64 `column:"first_order_chance" unit:"1" meaning:"chance that the claim holds if it turned on a plane: a check of the chance, never the answer"`
	Margin        float64 `column:"margin" unit:"margin_unit of the row" meaning:"how far inside the claim the point lies; below 0 where nothing believed is reached"`
	MarginUnit    string  `column:"margin_unit" meaning:"unit of margin"`
	Method        Reached "column:\"method\" meaning:\"how the point was found: see `proofmass list methods`\""
}
