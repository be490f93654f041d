//go:build !race

package walk_test

// raced says that the race detector is on.
const raced = false
