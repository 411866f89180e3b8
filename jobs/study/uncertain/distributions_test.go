package uncertain

import "testing"

func TestDistributionsHelp(t *testing.T) {
	for _, d := range Distributions() {
		if d.Key == "" || d.Parameters == "" || d.Meaning == "" {
			t.Errorf("incomplete: %+v", d)
		}
	}
	if len(Distributions()) != len(distributions) {
		t.Error("not all distributions are listed")
	}
}
