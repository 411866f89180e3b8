package source

import "bytes"

// maxSigns bounds the signs in a file that can begin a value, a key, a comment or a line,
// and so the tokens of the parser and the nodes of its tree: each sign begins three at
// most (a pair of flow style: the pair, its key and its value). 64 vehicles that state
// every quantity of the catalogue with its source stay below it. Reading what is within
// the bound allocates less than 200 MB (TestMemory).
const maxSigns = 100_000

// checkSize refuses a file that would make a tree of too many nodes, before it is made: a
// parser takes some hundred bytes for each node, which is a thousand times what "[]," has.
func (s *Document) checkSize() bool {
	signs, from := 0, 0
	for {
		at := bytes.IndexAny(s.data[from:], "\n,:[{&*!#\"'-?")
		if at < 0 {
			return true
		}
		from += at + 1
		if c := s.data[from-1]; (c == '-' || c == '?') && from < len(s.data) && !bytes.ContainsRune([]byte(" \t\r\n"), rune(s.data[from])) {
			continue // part of a word or a number
		}
		if signs++; signs > maxSigns {
			break
		}
	}
	before := s.data[:from-1]
	place := Place{s.path, 1 + bytes.Count(before, []byte("\n")), 1 + len([]rune(string(before[bytes.LastIndexByte(before, '\n')+1:])))}
	s.errs.Add(Error{place, "", "more than 100,000 lines and values", "a study has fewer: numbers in bulk go into a file of values"})
	return false
}
