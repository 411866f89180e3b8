package result

// A JointRow is a row of joint.parquet.
type JointRow struct {
	Choice   int64   `column:"choice" meaning:"number of the choice, 0 without choices"`
	Account  string  `column:"account" meaning:"always empty: one account of the study"`
	Claim    string  `column:"claim" meaning:"name of the claim"`
	Given    string  `column:"given" meaning:"the claim that holds in the draws that are looked at"`
	Chance   float64 `column:"chance" unit:"1" meaning:"share of the draws where given holds in which the claim holds too"`
	Low      float64 `column:"low" unit:"1" meaning:"lower end of the interval of the chance, which is sampling error alone"`
	High     float64 `column:"high" unit:"1" meaning:"upper end of the interval of the chance, which is sampling error alone"`
	Both     int64   `column:"both" meaning:"draws in which both hold"`
	Rows     int64   `column:"rows" meaning:"draws in which given holds"`
	Excludes int64   `column:"excludes" meaning:"1 where the two hold together in no draw, though unrelated claims of their chances would in more than 10"`
}
