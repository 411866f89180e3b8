package study

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"maps"
	"slices"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
)

// numbersDigest is the SHA-256 of all that the numbers of a study depend on: what its
// files state, in their order, files of values, and what the command line gave instead.
// Comments, layout, free text (source, note, link, as_of, said_by, said_on, meaning) and
// what a study calls and says of itself are left out.
func numbersDigest(roots map[string]source.Field, files []File, overrides map[string]string) string {
	w := digester{sha256.New()}
	for i, f := range files {
		if i > 0 {
			w.word("file", f.Name)
		}
		if root, ok := roots[f.Path]; ok {
			w.sections(root)
		} else {
			w.word("bytes", string(f.Data))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(overrides)) {
		w.word(name, overrides[name])
	}
	return hex.EncodeToString(w.Sum(nil))
}

type digester struct{ hash.Hash }

// word writes one text behind its kind, each with its length, so that no two sequences of
// words are alike.
func (w digester) word(kind, text string) {
	fmt.Fprintf(w, "%d %s %d %s\n", len(kind), kind, len(text), text)
}

// sections writes the top level of a file.
func (w digester) sections(root source.Field) {
	pairs, _ := root.Pairs("")
	for _, p := range pairs {
		switch p.Name {
		case "study", "about", "history", "show_in":
			continue
		case "inputs", "own", "outputs", "claims":
			w.named(p, w.stated)
		case "vehicles":
			w.named(p, w.vehicle)
		case "together", "measured", "could_measure":
			w.word("list", p.Name)
			if !p.Value.IsList() {
				w.whole(p.Value)
				continue
			}
			list, _ := p.Value.List("")
			for _, item := range list {
				w.stated(item)
			}
			w.word("end", "")
		default:
			w.word("key", p.Name)
			w.whole(p.Value)
		}
	}
}

// named writes a mapping of names, each with its value as one of a kind.
func (w digester) named(section source.Pair, value func(f source.Field)) {
	w.word("mapping", section.Name)
	if section.Value.IsMapping() {
		pairs, _ := section.Value.Pairs("")
		for _, p := range pairs {
			w.word("key", p.Name)
			value(p.Value)
		}
	}
	w.word("end", "")
}

// vehicle writes what is known of one vehicle.
func (w digester) vehicle(f source.Field) {
	if !f.IsMapping() {
		w.whole(f)
		return
	}
	pairs, _ := f.Pairs("")
	for _, p := range pairs {
		switch {
		case isFreeText(p.Name):
		case p.Name == "displaced", p.Name == "added":
			w.named(p, w.stated)
		case p.Name == "bill":
			w.named(p, w.line)
		default:
			w.word("key", p.Name)
			w.stated(p.Value)
		}
	}
	w.word("end", "")
}

// line writes a line of a bill; each of its numbers may have free text of its own.
func (w digester) line(f source.Field) {
	if !f.IsMapping() {
		w.whole(f)
		return
	}
	pairs, _ := f.Pairs("")
	for _, p := range pairs {
		if !isFreeText(p.Name) {
			w.word("key", p.Name)
			w.stated(p.Value)
		}
	}
	w.word("end", "")
}

// stated writes an item, an output, a claim or a group without its free text.
func (w digester) stated(f source.Field) {
	if !f.IsMapping() {
		w.whole(f)
		return
	}
	pairs, _ := f.Pairs("")
	for _, p := range pairs {
		switch {
		case isFreeText(p.Name):
		case p.Name == "withdrawn": // that it is, not why
			w.word("key", p.Name)
		default:
			w.word("key", p.Name)
			w.whole(p.Value)
		}
	}
	w.word("end", "")
}

// whole writes a field and all below it.
func (w digester) whole(f source.Field) {
	switch {
	case f.IsMapping():
		pairs, _ := f.Pairs("")
		for _, p := range pairs {
			w.word("key", p.Name)
			w.whole(p.Value)
		}
		w.word("end", "")
	case f.IsList():
		list, _ := f.List("")
		for _, item := range list {
			w.whole(item)
		}
		w.word("end", "")
	case f.IsNull():
		w.word("nothing", "")
	default:
		text, _ := f.Text("")
		w.word("text", text)
	}
}

// isFreeText reports whether a key stands for text that no number depends on. How a
// number is known is a word of a closed list, not free text.
func isFreeText(key string) bool {
	_, free := uncertain.FreeKeys(&FreeText{})[key]
	return free && key != "how_known"
}
