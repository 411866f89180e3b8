package unit

import "strings"

// mostWord bounds the words that Nearest compares, in bytes.
const mostWord = 64

// Nearest returns the known word that a misspelt one most probably means: one
// that differs in nothing but capitals, else the one with the fewest
// insertions, deletions, changes and swaps of neighbours, at most one for
// every three letters of word and three in all (common practice, no source).
// It returns "" if none is that close; of equals the first.
func Nearest(word string, known []string) string {
	if len(word) > mostWord {
		return ""
	}
	for _, k := range known {
		if strings.EqualFold(word, k) {
			return k
		}
	}
	best, least := "", min(len(word)/3, 3)+1
	for _, k := range known {
		if len(k) > mostWord || len(k)-len(word) >= least || len(word)-len(k) >= least {
			continue
		}
		if d := distance(strings.ToLower(word), strings.ToLower(k)); d < least {
			best, least = k, d
		}
	}
	return best
}

// distance is the edit distance in bytes with swaps of neighbours (optimal
// string alignment; Damerau 1964, Wagner and Fischer 1974).
func distance(a, b string) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
