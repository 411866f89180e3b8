package main

import (
	"io"
	"os"

	"golang.org/x/term"
)

// columns is the width of the terminal that w is, 0 where it is none.
func columns(w io.Writer) int {
	if s, ok := w.(*sink); ok {
		w = s.w
	}
	f, ok := w.(*os.File)
	if !ok {
		return 0
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return 0
	}
	return width
}
