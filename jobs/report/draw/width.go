package draw

// Widths of ASCII from the blank on, in thousandths of the type size, of DejaVu Sans, the
// widest of the fonts that a page may fall back to: what fits in it fits in all. Read off
// the font's hmtx table (version 2.37).
var (
	widths = [...]float64{318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636, 636, 636, 636, 636, 636,
		337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684,
		989, 685, 611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521,
		392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838}
	boldWidths = [...]float64{348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365, 696, 696, 696, 696, 696, 696, 696, 696, 696,
		696, 400, 400, 838, 838, 838, 580, 1000, 774, 762, 734, 830, 683, 683, 821, 837, 372, 372, 775, 637, 995, 837, 850, 733, 850, 770, 720, 682, 812,
		774, 1103, 771, 724, 725, 457, 365, 457, 838, 500, 500, 675, 716, 593, 716, 678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687, 716, 716, 493,
		595, 478, 712, 652, 924, 645, 652, 582, 712, 365, 712, 838}
)

// other is the width of what the table lacks: no character in use is wider.
const other = 1000

// Width is how wide words are at a type size, in the same unit, at most.
func Width(words string, size float64, bold bool) float64 {
	sum := 0.0
	for _, r := range words {
		sum += widthOf(r, bold)
	}
	return sum * size / 1000
}

func widthOf(r rune, bold bool) float64 {
	switch {
	case r < ' ':
		return 0
	case r == '\u00a0' || r == '·': // as wide as a blank
		return widths[0]
	case r == '−': // as wide as a plus
		return widths['+'-' ']
	case r > '~' && r <= 0x17f: // Latin letters with marks are as wide as an m at most
		return widths['m'-' ']
	case r > '~':
		return other
	case bold:
		return boldWidths[r-' ']
	}
	return widths[r-' ']
}

// Width is that of the text.
func (t *Text) Width() float64 { return Width(t.Words, t.Size, t.Bold) }

// Fit shortens words to a width: they end in an ellipsis then.
func Fit(words string, size, width float64) string {
	if Width(words, size, false) <= width {
		return words
	}
	letters := []rune(words)
	n, wide := 0, float64(other) // of the ellipsis
	for n < len(letters) && (wide+widthOf(letters[n], false))*size/1000 <= width {
		wide += widthOf(letters[n], false)
		n++
	}
	return string(letters[:max(1, n)]) + "…"
}
