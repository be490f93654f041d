# Every recipe only wraps a plain command; nothing needs just.

# open the invented depot in the terminal
run:
    go run . demo

test:
    go test ./...

# what staticcheck, vet and gofmt say
lint:
    gofmt -l .
    go vet ./...
    go run honnef.co/go/tools/cmd/staticcheck@v0.8.2 ./...

# benchmarks, beside a bare bbolt commit of the same bytes
bench:
    go test -run '^$' -bench . -benchmem ./...

# rewrite the golden frames; look at every changed one afterwards
golden:
    PAWL_UPDATE=1 go test ./ui/...

# pictures of the main screens into shots/
shots:
    .ci/shots

# all that CI runs
ci:
    .ci/run
