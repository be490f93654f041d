//go:build race

package store

// The race detector makes everything several times slower.
const (
	yearVisits = 6
	mostFlips  = 400
)
