package fastening

import (
	"strconv"
	"strings"

	"bay.example/pawl/job/phrase"
)

// mostFasteners bounds a group: far above any wheel, flange or hub.
const mostFasteners = 99

// StarOrder is the tightening order for n fasteners on a circle, numbered 1 to
// n clockwise: opposite pairs for an even number, each half in turn in the star
// order of half as many; a constant stride of (n−1)/2 for an odd number. From 5
// upward no two in a row are neighbours. Source: it gives the orders of
// tightening_order.csv (5: US Army TM 10-4320-344-24; 6, 8, 12 published; 4 and
// 10 by the pair rule). A vehicle maker's own order overrides it.
func StarOrder(n int) ([]int, error) {
	if n < 1 || n > mostFasteners {
		return nil, phrase.Error("fastening.order.fasteners-have-no-tightening-order-expected-1", n, mostFasteners)
	}
	return star(n), nil
}

func star(n int) []int {
	order := make([]int, 0, n)
	if n%2 == 0 {
		for _, first := range star(n / 2) {
			order = append(order, first, first+n/2)
		}
		return order
	}
	// n and (n−1)/2 share no factor, so the stride meets every fastener.
	for step := range n {
		order = append(order, step*((n-1)/2)%n+1)
	}
	return order
}

// CheckOrder names everything that breaks in an order for n fasteners on a
// circle: a number out of range, twice or missing; from 5 fasteners upward two
// neighbours in a row; with 4, where neighbours cannot be avoided, a pair that
// is not opposite. No findings means the order is sound. Source: workshop paper
// (trade.md 4.6) and tightening_order.csv.
func CheckOrder(order []int, n int) []string {
	if n < 1 || n > mostFasteners {
		return []string{phrase.Of("fastening.order.fasteners-have-no-tightening-order-expected-1", n, mostFasteners)}
	}
	var findings []string
	at := make([]int, n+1) // step of each fastener, 0 = not yet
	for i, f := range order {
		switch {
		case f < 1 || f > n:
			findings = append(findings, phrase.Of("fastening.order.step-is-not-one-of-1-to", i+1, f, n))
		case at[f] != 0:
			findings = append(findings, phrase.Of("fastening.order.step-was-already-step", i+1, f, at[f]))
		default:
			at[f] = i + 1
		}
	}
	for f := 1; f <= n; f++ {
		if at[f] == 0 {
			findings = append(findings, phrase.Of("fastening.order.is-missing", f))
		}
	}
	if len(findings) > 0 {
		return findings
	}
	for i := 1; i < n; i++ {
		apart := (order[i] - order[i-1] + n) % n
		switch {
		case n >= 5 && (apart == 1 || apart == n-1):
			findings = append(findings, phrase.Of("fastening.order.steps-and-and-are-neighbours", i, i+1, order[i-1], order[i]))
		case n == 4 && i%2 == 1 && apart != 2:
			findings = append(findings, phrase.Of("fastening.order.steps-and-and-are-not-opposite", i, i+1, order[i-1], order[i]))
		}
	}
	return findings
}

// FormatOrder writes an order the way the trade does: 1-4-2-5-3-6.
func FormatOrder(order []int) string {
	parts := make([]string, len(order))
	for i, f := range order {
		parts[i] = strconv.Itoa(f)
	}
	return strings.Join(parts, "-")
}
