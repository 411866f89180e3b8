package analyse

import (
	"slices"
	"strings"

	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// A Term is a word that a column of a result's tables can have, and what it stands for.
type Term struct {
	Column string // "order"; "claims method" where the tables of sensitivity have other words under that name
	result.Term
}

// Methods explains every word of the tables' closed lists, a column after the other,
// those of sensitivity first; of `input` the words that are no input of the study.
func Methods(catalogue *study.Catalogue) []Term {
	var all []Term
	listed := map[string][]result.Term{}
	for _, t := range append(result.Describe()[2:], result.Describe()[:2]...) {
		if t.File == result.ClaimsBefore || t.File == result.SummaryBefore {
			continue // their words are those of the tables after
		}
		for _, c := range t.Columns {
			words, label := c.Words, c.Name
			if c.Name == "input" {
				words = inputTerms(catalogue)
			}
			if before, known := listed[c.Name]; known {
				if slices.Equal(before, words) {
					continue
				}
				label = strings.TrimSuffix(t.File, ".parquet") + " " + c.Name
			}
			if len(words) > 0 {
				listed[c.Name] = words
			}
			for _, w := range words {
				all = append(all, Term{label, w})
			}
		}
	}
	return all
}

func inputTerms(catalogue *study.Catalogue) []result.Term {
	terms := []result.Term{
		{Word: study.OthersGroup, Meaning: "group of the inputs that screening found negligible, swapped as one"},
		{Word: study.SharedGroup, Meaning: "group of the uncertain inputs that belong to no vehicle"},
	}
	for _, f := range catalogue.Factors() {
		terms = append(terms, result.Term{Word: f.Name, Meaning: f.Meaning})
	}
	return terms
}
