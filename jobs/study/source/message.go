package source

import "errors"

// A Message is an error that says what was found and what is allowed, without a place.
type Message struct{ Found, Allowed string }

func (m *Message) Error() string {
	if m.Allowed == "" {
		return m.Found
	}
	return m.Found + "; " + m.Allowed
}

// ErrReported stands for a mistake whose own error is reported elsewhere.
var ErrReported = errors.New("already reported")

// told is an error of another package that says apart what was found and what is allowed.
type told interface {
	Told() (found, allowed string)
}

// MessageOf is what an error says, in its two parts where it has them.
func MessageOf(err error) Message {
	if m := new(Message); errors.As(err, &m) {
		return *m
	}
	var t told
	if errors.As(err, &t) {
		found, allowed := t.Told()
		return Message{found, allowed}
	}
	return Message{Found: err.Error()}
}
