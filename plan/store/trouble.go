package store

import (
	"errors"
	"io/fs"
	"os"
)

// FileError is what is wrong with a file: why, what to do about it, and which file, in this order. A path may be
// longer than a line, and what helps must not stand behind it.
type FileError struct {
	Reason string
	Remedy string // "" when there is nothing to propose
	Path   string
	Err    error // what the system said, nil when it was not asked
}

func (e *FileError) Error() string { return e.Why() + ": " + e.Path }

func (e *FileError) Unwrap() error { return e.Err }

// Why is the reason and the remedy, without the path.
func (e *FileError) Why() string {
	if e.Remedy == "" {
		return e.Reason
	}
	return e.Reason + "; " + e.Remedy
}

// trouble is the same before it is known which name the file was given by.
func trouble(reason, remedy string, err error) error {
	return &FileError{Reason: reason, Remedy: remedy, Err: err}
}

// about says of which file an error is. One that nobody explained begins with what could not be done.
func about(path, doing string, err error) error {
	var known *FileError
	if errors.As(err, &known) {
		e := *known
		e.Path = path
		return &e
	}
	return &FileError{Reason: "cannot " + doing + " it: " + bare(err).Error(), Path: path, Err: err}
}

// bare takes the path out of a system error, where the message has it already.
func bare(err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		return p.Err
	case errors.As(err, &l):
		return l.Err
	}
	return err
}
