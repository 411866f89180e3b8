// Package begin gives commented studies to start from. Each runs as it stands; all their
// numbers are invented. README's walk starts from the rumour: who changes it renews the answers
// and pictures shown there, which a test holds to it.
package begin

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
)

//go:embed studies
var studies embed.FS

// A Kind is one study to start from.
type Kind struct{ Name, Meaning string }

// Kinds are the studies that there are, the usual one first.
func Kinds() []Kind {
	return []Kind{
		{"rumour", "little is known but what is said of a new pack"},
		{"teardown", "a pack was taken apart, its parts weighed"},
		{"swap", "another pack in the same car"},
	}
}

// simple are names that a shell takes as they are.
var simple = regexp.MustCompile(`^[A-Za-z0-9_./-]+$`)

// Text is a study of a kind as it is written to a file of that name, which its comments
// mention.
func Text(kind, path string) ([]byte, error) {
	text, err := studies.ReadFile("studies/" + kind + ".yaml")
	if err != nil {
		return nil, fmt.Errorf("there is no study to start from called %q", kind)
	}
	name := "FILE"
	if simple.MatchString(path) {
		name = path
	}
	return bytes.ReplaceAll(text, []byte("THIS_FILE"), []byte(name)), nil
}

// Write writes a study of a kind to a new file. One that is there already is never written
// over, and no folder is made.
func Write(kind, path string) error {
	text, err := Text(kind, path)
	if err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	switch {
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("%s exists; give the name of a new file", path)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: there is no folder %s", path, filepath.Dir(path))
	case err != nil:
		return err
	}
	_, err = f.Write(text)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		os.Remove(path) // half a study is none
	}
	return err
}
