package several

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"proofmass/jobs/report"
)

const width = 80

// Text puts the chances of each claim side by side, study by study.
func Text(out io.Writer, all []Study) error {
	var b strings.Builder
	b.WriteString(report.Wrap(count(all), "", width))
	for _, claim := range claims(all) {
		b.WriteString("\n" + report.Wrap(claim, "", width))
		for _, s := range all {
			if c := s.claim(claim); c != nil {
				b.WriteString(line(s.Folder, c))
			}
		}
	}
	_, err := io.WriteString(out, b.String())
	return err
}

// count says how many studies came to what.
func count(all []Study) string {
	var failed []string
	for _, s := range all {
		if s.Answer == nil {
			failed = append(failed, s.Folder)
		}
	}
	switch {
	case len(failed) == 0:
		return fmt.Sprintf("All of %d studies are finished.", len(all))
	case len(failed) == len(all):
		return fmt.Sprintf("None of %d studies is finished.", len(all))
	}
	return fmt.Sprintf("%d of %d studies are finished; failed: %s.", len(all)-len(failed), len(all), strings.Join(failed, ", "))
}

// claims are the names of all, in the order in which they come first.
func claims(all []Study) (names []string) {
	for _, s := range all {
		if s.Answer == nil {
			continue
		}
		for _, c := range s.Answer.Claims {
			if !slices.Contains(names, c.Name) {
				names = append(names, c.Name)
			}
		}
	}
	return names
}

func (s *Study) claim(name string) *report.Claim {
	if s.Answer != nil {
		for i := range s.Answer.Claims {
			if s.Answer.Claims[i].Name == name {
				return &s.Answer.Claims[i]
			}
		}
	}
	return nil
}

// line is a study's verdict: behind its name, or below one that is long.
func line(name string, c *report.Claim) string {
	const column = 18
	text := c.InWords() + ": " + c.Frequency
	if behind := c.Behind(); behind != "" {
		text += " (" + behind + ")"
	}
	indent := strings.Repeat(" ", column)
	body := report.Wrap(text, indent, width)
	name = "  " + report.Printable(name)
	if n := len([]rune(name)); n < column {
		return name + body[n:]
	}
	return report.Wrap(strings.TrimSpace(name), "  ", width) + body
}
