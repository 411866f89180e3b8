package source

import (
	"errors"
	"fmt"
	"io"

	"proofmass/jobs/regular"
)

// maxBytes bounds a study file; one over it is refused unread.
const maxBytes = 4 << 20

// ReadStudy reads a regular file of at most MaxBytes.
func ReadStudy(path string) ([]byte, error) {
	return ReadFile(path, maxBytes, "a study may have at most 4194304 (4 MiB)")
}

// ReadFile reads a regular file of at most so many bytes: anything else, such as a pipe
// that never ends, is refused unopened. allowed says in the error how many.
func ReadFile(path string, most int64, allowed string) ([]byte, error) {
	f, size, err := regular.Open(path)
	if what := new(regular.Error); errors.As(err, &what) {
		return nil, errors.New(what.What)
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if size > most {
		return nil, fmt.Errorf("has %d bytes; %s", size, allowed)
	}
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	if err != nil || int64(len(data)) > most {
		return nil, errors.New("cannot be read whole")
	}
	return data, nil
}
