package result

// A RareRow is a row of rare.parquet.
type RareRow struct {
	Claim       string  `column:"claim" meaning:"name of the claim"`
	Turning     Turning `column:"side" meaning:"towards which side of a rare claim the populations climb: where it holds, or where it fails"`
	Level       int64   `column:"level" meaning:"number of the level, from 1; the last is where the claim turns, or how far the populations came"`
	At          float64 `column:"at" unit:"unit of the row" meaning:"margin of the claim that is the level; null where the claim turns"`
	Unit        string  `column:"unit" meaning:"unit of the margin"`
	Chance      float64 `column:"chance" unit:"1" meaning:"chance of a margin at the level or beyond it: mean of the populations' own, each the product of its shares"`
	Low         float64 `column:"chance_low" unit:"1" meaning:"lower end of the interval of the chance, Student's t over the populations"`
	High        float64 `column:"chance_high" unit:"1" meaning:"upper end of the interval of the chance, Student's t over the populations"`
	Share       float64 `column:"share" unit:"1" meaning:"share of the rows of this round that lie at the level or beyond it, mean of the populations"`
	Populations int64   `column:"populations" meaning:"populations, of 16, that have such rows: the others have died out, and count with a chance of 0"`
	Step        float64 `column:"step" unit:"1" meaning:"step of the moves that led here, from 0 to 1; null at the first level, whose rows are drawn"`
	Taken       float64 `column:"taken" unit:"1" meaning:"share of these moves that were accepted"`
	ModelRuns   int64   `column:"model_runs" meaning:"evaluations of the model of the whole climb"`
	Reached     int64   `column:"reached" meaning:"1 where the claim turns at this level"`
	Used        int64   `column:"used" meaning:"1 where claims.parquet has this chance: the plain draws do not contradict it"`
}
