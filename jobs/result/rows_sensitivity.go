package result

// An IndexRow is a row of indices.parquet.
type IndexRow struct {
	Choice    int64   `column:"choice" meaning:"number of the choice, 0 without choices"`
	Output    string  `column:"output" meaning:"the output, or the claim"`
	Of        Of      `column:"of" meaning:"output; margin: how far inside the claim a draw lies; holds: whether it holds, 1 or 0"`
	Input     string  `column:"input" meaning:"the input or group; model_error stands for both of its factors"`
	Other     string  `column:"other" meaning:"the other input of a second-order index"`
	Method    Method  "column:\"method\" meaning:\"the estimator, one of a closed list: see `proofmass list methods`\""
	Order     Order   "column:\"order\" meaning:\"what kind of figure: see `proofmass list methods`\""
	Estimate  float64 `column:"estimate" unit:"1" meaning:"the figure; null for what never varies"`
	Low       float64 `column:"low" unit:"1" meaning:"lower end of its interval"`
	High      float64 `column:"high" unit:"1" meaning:"upper end of its interval"`
	ModelRuns int64   `column:"model_runs" meaning:"evaluations of the model made for this figure and those made with it; 0: from the sample's own rows"`
	Dropped   float64 `column:"dropped" unit:"1" meaning:"share of the rows left out because a run is infeasible; null: not counted"`
	Evidence  Taken   `column:"evidence,optional" meaning:"before or after what was measured; empty where nothing was"`
}

// A BarRow is a row of tornado.parquet.
type BarRow struct {
	Choice      int64   `column:"choice" meaning:"number of the choice, 0 without choices"`
	Output      string  `column:"output" meaning:"the output, or the claim"`
	Of          Of      `column:"of" meaning:"output; margin: how far inside the claim a draw lies"`
	Input       string  `column:"input" meaning:"the input that is moved, or looked at"`
	Form        Form    `column:"form" meaning:"one_at_a_time: all other inputs at their medians; conditional: the mean over the draws in the input's lowest and highest twentieth"`
	InputLow    float64 `column:"input_low" unit:"input_unit of the row" meaning:"5th percentile of the input; conditional: its mean in its lowest twentieth"`
	InputHigh   float64 `column:"input_high" unit:"input_unit of the row" meaning:"95th percentile of the input; conditional: its mean in its highest twentieth"`
	AtLow       float64 `column:"at_low" unit:"unit of the row" meaning:"the output at input_low"`
	AtHigh      float64 `column:"at_high" unit:"unit of the row" meaning:"the output at input_high"`
	Swing       float64 `column:"swing" unit:"unit of the row" meaning:"at_high less at_low"`
	Unit        string  `column:"unit" meaning:"unit of the output"`
	InputUnit   string  `column:"input_unit" meaning:"unit of the input"`
	Shape       Shape   `column:"shape,optional" meaning:"of the mean output over the input's range: one_way, turns (up and down by more than its bands), empty where not looked at"`
	AtLowFrom   float64 `column:"at_low_from" unit:"unit of the row" meaning:"lower end of the interval of at_low, conditional only"`
	AtLowTo     float64 `column:"at_low_to" unit:"unit of the row" meaning:"upper end of it"`
	AtHighFrom  float64 `column:"at_high_from" unit:"unit of the row" meaning:"lower end of the interval of at_high, conditional only"`
	AtHighTo    float64 `column:"at_high_to" unit:"unit of the row" meaning:"upper end of it"`
	SumOfSwings float64 `column:"sum_of_swings" unit:"unit of the row" meaning:"sizes of all swings of this output and form together; null where one is not known"`
	Spread      float64 `column:"spread" unit:"unit of the row" meaning:"p95 less p05 of the output in the draws"`
}

// A CurveRow is a row of curves.parquet.
type CurveRow struct {
	Choice    int64   `column:"choice" meaning:"number of the choice, 0 without choices"`
	Output    string  `column:"output" meaning:"the output, or the claim"`
	Of        Of      `column:"of" meaning:"output; margin: how far inside the claim a draw lies; holds: whether it holds, so that the mean is its chance"`
	Input     string  `column:"input" meaning:"the input"`
	Class     int64   `column:"class" meaning:"number of the class, from the lowest"`
	InputLow  float64 `column:"input_low" unit:"input_unit of the row" meaning:"lowest value of the input in the class"`
	InputHigh float64 `column:"input_high" unit:"input_unit of the row" meaning:"highest value of the input in the class"`
	InputMid  float64 `column:"input_mid" unit:"input_unit of the row" meaning:"median of the input in the class"`
	Mean      float64 `column:"mean" unit:"unit of the row" meaning:"mean of the output over the draws of the class"`
	Low       float64 `column:"low" unit:"unit of the row" meaning:"lower end of its interval"`
	High      float64 `column:"high" unit:"unit of the row" meaning:"upper end of its interval"`
	Unit      string  `column:"unit" meaning:"unit of the output"`
	InputUnit string  `column:"input_unit" meaning:"unit of the input"`
}

// A RegionRow is a row of regions.parquet.
type RegionRow struct {
	Choice            int64   `column:"choice" meaning:"number of the choice, 0 without choices"`
	Claim             string  `column:"claim" meaning:"the claim"`
	Input             string  `column:"input" meaning:"the input"`
	InputUnit         string  `column:"input_unit" meaning:"unit of the input's percentiles"`
	Held              int64   `column:"held" meaning:"draws looked at in which it holds; with fewer than 50 of either kind nothing is said"`
	Failed            int64   `column:"failed" meaning:"draws looked at in which it fails"`
	HoldsP10          float64 `column:"holds_p10" unit:"input_unit of the row" meaning:"10th percentile of the input where the claim holds"`
	HoldsP50          float64 `column:"holds_p50" unit:"input_unit of the row" meaning:"median of the input where the claim holds"`
	HoldsP90          float64 `column:"holds_p90" unit:"input_unit of the row" meaning:"90th percentile of the input where the claim holds"`
	FailsP10          float64 `column:"fails_p10" unit:"input_unit of the row" meaning:"10th percentile of the input where the claim fails"`
	FailsP50          float64 `column:"fails_p50" unit:"input_unit of the row" meaning:"median of the input where the claim fails"`
	FailsP90          float64 `column:"fails_p90" unit:"input_unit of the row" meaning:"90th percentile of the input where the claim fails"`
	Distance          float64 `column:"distance" unit:"1" meaning:"Kolmogorov-Smirnov distance of the two distributions, 0 to 1"`
	DistanceLow       float64 `column:"distance_low" unit:"1" meaning:"lower end of its interval; below 0: nothing need be there"`
	DistanceHigh      float64 `column:"distance_high" unit:"1" meaning:"upper end of its interval"`
	DistanceFloor     float64 `column:"distance_floor" unit:"1" meaning:"what it is on average for an input that does nothing"`
	Shift             int64   `column:"shift" meaning:"1: the input is higher where the claim holds, -1: lower, 0: not said"`
	ChanceLowest      float64 `column:"chance_lowest" unit:"1" meaning:"chance of the claim in the lowest twentieth of the input"`
	ChanceLowestLow   float64 `column:"chance_lowest_low" unit:"1" meaning:"lower end of its interval"`
	ChanceLowestHigh  float64 `column:"chance_lowest_high" unit:"1" meaning:"upper end of its interval"`
	ChanceHighest     float64 `column:"chance_highest" unit:"1" meaning:"chance of the claim in the highest twentieth of the input"`
	ChanceHighestLow  float64 `column:"chance_highest_low" unit:"1" meaning:"lower end of its interval"`
	ChanceHighestHigh float64 `column:"chance_highest_high" unit:"1" meaning:"upper end of its interval"`
}
