// Package benchsqlite holds the workshop file against SQLite with the same jobs and the same
// durability, in one run. It is a module of its own, so that SQLite is no dependency of the program:
//
//	PAWL_BENCH_JOBS=6000 PAWL_BENCH_FILE=/tmp/bench.pawl go test -run '^$' -bench Archive -benchtime 1x ./store
//	cd store/benchsqlite && PAWL_BENCH_FILE=/tmp/bench.pawl go test -bench .
//
// The first line makes the file; see the benchmarks of package store for how.
package benchsqlite
