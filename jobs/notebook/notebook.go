// Package notebook writes a notebook into a result folder, which opens its tables with pandas
// and shows the same numbers with plots that an analyst changes. It is the same for every
// result: nothing in it is fixed but the folder it lies in.
package notebook

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

//go:embed notebook.ipynb
var text []byte

// File is its name in the folder. It is the analyst's own: no run and no report takes it away
// or writes over it.
const File = "notebook.ipynb"

// ErrChanged says that there is one already which somebody has worked in.
var ErrChanged = errors.New("is there and was changed: move it away to have a new one")

// Write writes the notebook into a result folder and returns its path.
func Write(folder string) (string, error) {
	path := filepath.Join(folder, File)
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		info, err := os.Lstat(path)
		if err == nil && info.Mode().IsRegular() && info.Size() == int64(len(text)) {
			if there, err := os.ReadFile(path); err == nil && bytes.Equal(there, text) {
				return path, nil
			}
		}
		return "", fmt.Errorf("%s %w", path, ErrChanged)
	}
	if err != nil {
		return "", err
	}
	_, err = f.Write(text)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		os.Remove(path)
		return "", err
	}
	return path, nil
}
