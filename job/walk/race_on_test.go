//go:build race

package walk_test

// raced says that the race detector is on. It makes the whole proof take many minutes and finds
// nothing in code without goroutines, so that it runs over the decisions only; .ci/run runs the
// whole without it.
const raced = true
