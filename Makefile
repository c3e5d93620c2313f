# Shortcuts; the README's two commands need none of them.
.PHONY: demo check bench fuzz

demo:
	go run ./cmd/unspool demo

check:
	./check.sh

# One card against decoding its photo, and against a chain of general tools.
bench:
	go test -run '^$$' -bench . -benchmem ./...

fuzz:
	./check.sh --fuzz
