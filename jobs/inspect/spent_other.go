//go:build !unix

package inspect

import "time"

// spent is the time that passes.
func spent() time.Duration { return since() }
