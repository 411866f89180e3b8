package result

// A MeasureRow is a row of measure_next.parquet.
type MeasureRow struct {
	Choice       int64    `column:"choice" meaning:"number of the choice, 0 without choices"`
	Account      string   `column:"account" meaning:"always empty: one account of the study"`
	Claim        string   `column:"claim" meaning:"the claim that is in doubt"`
	Item         string   `column:"item" meaning:"what would be measured: an input or an output"`
	Other        string   `column:"other" meaning:"what would be measured with it, empty for one alone"`
	Error        float64  `column:"error" unit:"error_unit of the row" meaning:"standard deviation of the gauge's own error; 0: learnt exactly, which no gauge betters"`
	ErrorUnit    string   `column:"error_unit" meaning:"unit of the error"`
	Price        float64  `column:"price" unit:"price_unit of the row" meaning:"what the measurement costs; null where the study does not say"`
	PriceUnit    string   `column:"price_unit" meaning:"the study's money, empty where it has none"`
	Risk         float64  `column:"risk" unit:"1" meaning:"chance of being wrong now when one says of the claim what is likelier: the less of the chances that it holds and that it fails"`
	Gain         float64  `column:"gain" unit:"1" meaning:"by how much that falls, on average over what the measurement may show; null with fewer than 4096 draws"`
	GainLow      float64  `column:"gain_low" unit:"1" meaning:"lower end of its interval; 0: not shown to help"`
	GainHigh     float64  `column:"gain_high" unit:"1" meaning:"upper end of its interval"`
	Share        float64  `column:"variance_share" unit:"1" meaning:"share of the variance of the yes or no that goes when it is learnt"`
	SD           float64  `column:"sd" unit:"unit of the row" meaning:"standard deviation now of how far inside the claim a draw lies; null where a claim has no such margin"`
	SDLeft       float64  `column:"sd_left" unit:"unit of the row" meaning:"what is left of it on average, as root mean square, when the item is learnt"`
	SDLeftLow    float64  `column:"sd_left_low" unit:"unit of the row" meaning:"lower end of the interval of sd_left"`
	SDLeftHigh   float64  `column:"sd_left_high" unit:"unit of the row" meaning:"upper end of the interval of sd_left"`
	Unit         string   `column:"unit" meaning:"unit of the standard deviations"`
	GainPerPrice float64  `column:"gain_per_price" unit:"1/price_unit of the row" meaning:"gain a unit of money; null without a price"`
	Rank         int64    `column:"rank" meaning:"1: the best of the claim's rows of one method, by gain_low, then gain, then variance_share"`
	RankForMoney int64    `column:"rank_for_money" meaning:"the same by gain_low, then gain, a unit of money; 0 without a price"`
	Method       Learning "column:\"method\" meaning:\"how it was estimated: see `proofmass list methods`\""
}
