//go:build !race

package store

const (
	yearVisits = 30
	mostFlips  = 1000
)
