//go:build !unix

package main

import "errors"

// beNice: this system has no priority that we know.
func beNice(int) error { return errors.ErrUnsupported }
