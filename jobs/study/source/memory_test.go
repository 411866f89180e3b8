package source

import (
	"runtime"
	"strings"
	"testing"
)

// mostAllocated is what reading one file may allocate in all, garbage too, beside its
// bytes: what it holds at once is less.
const mostAllocated = 200 << 20

// allocated is how much reading the bytes allocates.
func allocated(data []byte) int64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	var errs Collector
	if root, ok := Parse("s.yaml", data, &errs); ok {
		visit(root)
	}
	runtime.ReadMemStats(&after)
	return int64(after.TotalAlloc - before.TotalAlloc)
}

// visit reads every value as a caller would.
func visit(f Field) {
	if f.IsMapping() {
		pairs, _ := f.Pairs("")
		for _, p := range pairs {
			visit(p.Value)
		}
		return
	}
	if f.IsList() {
		list, _ := f.List("")
		for _, item := range list {
			visit(item)
		}
		return
	}
	f.ErrAt(0, f.What(), f.Flow())
}

// repeats are texts that, again and again, make a parser work hardest for its bytes.
var repeats = []string{"[]", "[],", "{},", "[,", "{a: b},", "a,", "a: b,", ",", "- ", "- a\n", "-\n", "? ", "? a\n", "? a\n: b\n", "a: b\n", "a:\n", ":", ": ", ": ,",
	"a\n", "#\n", "# a\n", "a # b\n", "\n", " ", "\t", "&a ", "*a ", "*a, ", "&a a, ", "!a ", "!a a, ", "!!str a, ", "!<a> a, ", "%TAG ! a\n", "%TAG !a! a\n", "---\n", "--- a\n", "...\n",
	"\"\" ", "\"\", ", "'', ", "'a': ", "\"a\": b, ", "\"\\n", "|\n a\n", ">\n\n", "a: |\n  b\n", "\"a\\\n", "a b ", "<<: a\n", "\r", "\r\n", "a\r", "\u2028", "\u0085", "\u0085a: b", "[a]: b, ", "{? a, ? b}, ", "@", "`"}

// TestMemory reads as much of each of the repeated texts as is parsed, within a list or a
// mapping.
func TestMemory(t *testing.T) {
	most := int64(0)
	for _, text := range repeats {
		before := "a: ["
		if strings.Contains(text, "\n") || strings.HasPrefix(text, "- ") {
			before = "a:\n  "
		}
		data := []byte(before + strings.Repeat(text, (maxBytes-10)/len(text)))
		if signs := signsIn(text); signs > 0 { // as many as are still parsed
			data = data[:min(len(data), len(before)+(maxSigns-100)/signs*len(text))]
		}
		n := allocated(data)
		most = max(most, n)
		if n > mostAllocated {
			t.Errorf("%d bytes of %q behind %q allocate %d MB", len(data), text, before, n>>20)
		}
	}
	t.Logf("at most %d MB", most>>20)
}

// signsIn is how many signs of a text may count, at most.
func signsIn(text string) int {
	n := 0
	for _, sign := range "\n,:[{&*!#\"'-?" {
		n += strings.Count(text, string(sign))
	}
	return n
}

// TestTooManySigns has files beyond the bound refused unparsed.
func TestTooManySigns(t *testing.T) {
	for _, text := range []string{"[],", "a\n", "&a ", "# a\n"} {
		var errs Collector
		_, ok := Parse("s.yaml", []byte("a: 1\nb: ["+strings.Repeat(text, maxBytes/len(text)-10)), &errs)
		if got := errs.All("s.yaml").Error(); ok || !strings.Contains(got, ": more than 100,000 lines and values; ") {
			t.Errorf("%q: %s", text, got)
		}
	}
}

// FuzzMemory mixes repeated texts.
func FuzzMemory(f *testing.F) {
	for _, text := range repeats {
		f.Add("a: [", text, uint16(100))
	}
	f.Fuzz(func(t *testing.T, before, text string, thousands uint16) {
		n := min(maxBytes, 1000*int(thousands)+len(text))
		if text == "" {
			return
		}
		data := []byte(before + strings.Repeat(text, n/len(text)))
		if len(data) > maxBytes {
			return
		}
		if n := allocated(data); n > mostAllocated {
			t.Errorf("%d bytes of %q behind %q allocate %d MB", len(data), text, before, n>>20)
		}
	})
}
