package notices

import (
	"fmt"
	"strings"

	"proofmass/sampling/design"
	"proofmass/sampling/portable"
)

// modules are what the program is built with, and their licences by SPDX name. A
// module's whole licence text comes with its source.
var modules = []struct{ path, licence string }{
	{"Go's standard library and runtime", "BSD-3-Clause"},
	{"github.com/andybalholm/brotli", "MIT"},
	{"github.com/google/uuid", "BSD-3-Clause"},
	{"github.com/klauspost/compress", "BSD-3-Clause, parts Apache-2.0 and MIT"},
	{"pgregory.net/rapid", "MPL-2.0; draws the cases of tests, not in the program"},
	{"github.com/mmcloughlin/avo", "BSD-3-Clause; makes the kernel's source, not in the program"},
	{"github.com/parquet-go/bitpack", "Apache-2.0"},
	{"github.com/parquet-go/jsonlite", "MIT"},
	{"github.com/parquet-go/parquet-go", "Apache-2.0"},
	{"github.com/pierrec/lz4/v4", "BSD-3-Clause"},
	{"github.com/santhosh-tekuri/jsonschema/v6", "Apache-2.0; in tests, not in the program"},
	{"github.com/spf13/pflag", "BSD-3-Clause"},
	{"github.com/twpayne/go-geom", "BSD-2-Clause"},
	{"go.yaml.in/yaml/v4", "Apache-2.0, parts MIT"},
	{"golang.org/x/exp", "BSD-3-Clause"},
	{"golang.org/x/image", "BSD-3-Clause; with the Go fonts, the same"},
	{"golang.org/x/mod", "BSD-3-Clause"},
	{"golang.org/x/sync", "BSD-3-Clause"},
	{"golang.org/x/sys", "BSD-3-Clause"},
	{"golang.org/x/term", "BSD-3-Clause"},
	{"golang.org/x/text", "BSD-3-Clause"},
	{"golang.org/x/tools", "BSD-3-Clause"},
	{"gonum.org/v1/gonum", "BSD-3-Clause"},
	{"google.golang.org/protobuf", "BSD-3-Clause"},
}

// Text is the copyright notices of what the program took over from others, and
// the licences of the modules that it is built with.
func Text() string {
	var b strings.Builder
	b.WriteString(design.SobolNotice)
	fmt.Fprintf(&b, "\nElementary functions (package sampling/portable), from fdlibm with products rounded:\n\n%s", portable.Notice)
	b.WriteString("\nModules and their licences:\n\n")
	for _, m := range modules {
		fmt.Fprintf(&b, "  %-34s %s\n", m.path, m.licence)
	}
	return b.String()
}
