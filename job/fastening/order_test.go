package fastening

import (
	"slices"
	"strconv"
	"testing"
)

// Source: each row of tightening_order.csv and its header names its own. Two of
// the rows are by the pair rule, the others published.
func TestStarOrderAgainstTable(t *testing.T) {
	for _, row := range reference(t, "tightening_order") {
		n, err := strconv.Atoi(row["fasteners"])
		if err != nil {
			t.Fatal(err)
		}
		order, err := StarOrder(n)
		if err != nil {
			t.Fatal(err)
		}
		diff(t, row["order"], FormatOrder(order))
	}
}

// Source: properties in the header of tightening_order.csv.
func TestStarOrderProperties(t *testing.T) {
	for n := 1; n <= mostFasteners; n++ {
		order, err := StarOrder(n)
		if err != nil {
			t.Fatal(err)
		}
		sorted := slices.Sorted(slices.Values(order))
		for i, f := range sorted {
			if f != i+1 || len(sorted) != n {
				t.Fatalf("%d: %v is no permutation", n, order)
			}
		}
		for i := 1; i < n; i++ {
			apart := (order[i] - order[i-1] + n) % n
			if n%2 == 0 && i%2 == 1 && apart != n/2 {
				t.Errorf("%d: steps %d and %d of %v are not opposite", n, i, i+1, order)
			}
			if n >= 5 && (apart == 1 || apart == n-1) {
				t.Errorf("%d: steps %d and %d of %v are neighbours", n, i, i+1, order)
			}
			if n == 5 && apart != 2 {
				t.Errorf("5: stride %d in %v", apart, order)
			}
		}
		if findings := CheckOrder(order, n); findings != nil {
			t.Errorf("%d: %v", n, findings)
		}
	}
	for _, n := range []int{-1, 0, 100} {
		_, err := StarOrder(n)
		refused(t, err, "expected 1 to 99")
	}
}

func TestCheckOrderNamesWhatBreaks(t *testing.T) {
	for _, tc := range []struct {
		order []int
		n     int
		want  []string
	}{
		{[]int{1, 4, 2, 5, 3}, 6, []string{"6 is missing"}},
		{[]int{1, 4, 2, 5, 3, 3}, 6, []string{"step 6: 3 was already step 5", "6 is missing"}},
		{[]int{1, 4, 2, 5, 3, 6, 7}, 6, []string{"step 7: 7 is not one of 1 to 6"}},
		{[]int{0, 4, 2, 5, 3, 6}, 6, []string{"step 1: 0 is not one of 1 to 6", "1 is missing"}},
		{[]int{1, 2, 4, 6, 3, 5}, 6, []string{"steps 1 and 2: 1 and 2 are neighbours"}},
		{[]int{1, 3, 5, 2, 6, 4}, 6, nil},
		{[]int{2, 4, 6, 1, 3, 5}, 6, []string{"steps 3 and 4: 6 and 1 are neighbours"}},
		{[]int{1, 2, 3, 4, 5}, 5, []string{"steps 1 and 2: 1 and 2 are neighbours", "steps 2 and 3: 2 and 3 are neighbours",
			"steps 3 and 4: 3 and 4 are neighbours", "steps 4 and 5: 4 and 5 are neighbours"}},
		{[]int{1, 2, 3, 4}, 4, []string{"steps 1 and 2: 1 and 2 are not opposite", "steps 3 and 4: 3 and 4 are not opposite"}},
		{[]int{2, 4, 1, 3}, 4, nil},
		{[]int{3, 1, 2}, 3, nil},
		{[]int{1}, 0, []string{"0 fasteners have no tightening order, expected 1 to 99"}},
	} {
		diff(t, tc.want, CheckOrder(tc.order, tc.n))
	}
}

func BenchmarkCheckOrder(b *testing.B) {
	order, err := StarOrder(20)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if CheckOrder(order, 20) != nil {
			b.Fatal("a star order breaks")
		}
	}
}
