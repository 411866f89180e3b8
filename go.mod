module proofmass

go 1.26.0

require (
	github.com/andybalholm/brotli v1.1.1
	github.com/klauspost/compress v1.17.9
	github.com/mmcloughlin/avo v0.5.0
	github.com/parquet-go/parquet-go v0.32.0
	github.com/pierrec/lz4/v4 v4.1.21
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	github.com/spf13/pflag v1.1.0
	go.yaml.in/yaml/v4 v4.0.0
	golang.org/x/exp v0.0.0-20261113113407-e3970619a1a4
	golang.org/x/image v0.48.0
	golang.org/x/sys v0.50.0
	golang.org/x/term v0.48.0
	gonum.org/v1/gonum v0.17.0
	pgregory.net/rapid v1.2.0
)

require (
	github.com/google/uuid v1.6.0 // indirect
	github.com/parquet-go/bitpack v1.0.0 // indirect
	github.com/parquet-go/jsonlite v1.0.0 // indirect
	github.com/twpayne/go-geom v1.6.1 // indirect
	golang.org/x/mod v0.42.0 // indirect
	golang.org/x/sync v0.25.0 // indirect
	golang.org/x/text v0.44.0 // indirect
	golang.org/x/tools v0.52.1-0.20261106145633-d407941a339a // indirect
	google.golang.org/protobuf v1.34.2 // indirect
)
