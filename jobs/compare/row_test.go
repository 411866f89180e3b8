package compare

import "testing"

// A label that fills its column, or more, stands on a line of its own.
func TestRowOfALongLabel(t *testing.T) {
	for label, want := range map[string]string{
		"short":              "  short      told\n",
		"ten.letter":         "  ten.letter told\n",
		"eleven.name":        "  eleven.name\n             told\n",
		"gull.label_range":   "  gull.label_range\n             told\n",
		"lite.kerb_mass_new": "  lite.kerb_mass_new\n             told\n",
	} {
		b := &text{}
		b.Width = 80
		if b.row(label, "told"); b.String() != want {
			t.Errorf("%q, want %q", b.String(), want)
		}
	}
}
