package benchsqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	_ "modernc.org/sqlite"

	"bay.example/pawl/job"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// BenchmarkCommit writes one event of 400 bytes with the line of its job, on the disk. The workshop
// file's own figure, with rules and digests, is BenchmarkAppend of package store beside
// BenchmarkBareCommit: compare by the ratio to a bare commit.
func BenchmarkCommit(b *testing.B) {
	db, err := sql.Open("sqlite", dsn(filepath.Join(b.TempDir(), "commit.db")))
	must(b, err)
	defer db.Close()
	_, err = db.Exec(schema)
	must(b, err)
	body, prev := make([]byte, 400), make([]byte, 32)
	n := 0
	b.Run("sqlite", func(b *testing.B) {
		for b.Loop() {
			n++
			tx, err := db.Begin()
			must(b, err)
			_, err = tx.Exec("insert into event values (?,?,?,?)", n/200, n, prev, body)
			must(b, err)
			_, err = tx.Exec("insert into job (number, complaint) values (?,'x') on conflict (number) do update set complaint = excluded.complaint", n/200)
			must(b, err)
			must(b, tx.Commit())
		}
	})
}

func BenchmarkOpenAndList(b *testing.B) {
	b.Run("pawl", func(b *testing.B) {
		path := pawlFile(b)
		for b.Loop() {
			f, err := store.Open(path, store.Options{})
			must(b, err)
			_, err = f.Jobs()
			must(b, err)
			must(b, f.Close())
		}
	})
	b.Run("sqlite", func(b *testing.B) {
		path := sqliteFile(b)
		for b.Loop() {
			db, err := sql.Open("sqlite", dsn(path))
			must(b, err)
			rows, err := db.Query("select number, vehicle, opened, last, outcome, complaint from job order by number desc")
			must(b, err)
			n := 0
			for rows.Next() {
				var number int
				var vehicle, opened, last, outcome, complaint string
				must(b, rows.Scan(&number, &vehicle, &opened, &last, &outcome, &complaint))
				n++
			}
			must(b, rows.Err())
			must(b, db.Close())
		}
	})
}

var searches = []string{"case 01234", "w10 tavo", "demxud00000000042", "zz99zzz"}

func BenchmarkFind(b *testing.B) {
	f, db := openPawl(b), openSQLite(b)
	count := func(b *testing.B, query string, args ...any) {
		rows, err := db.Query(query, args...)
		must(b, err)
		for rows.Next() {
			var n int
			must(b, rows.Scan(&n))
		}
		must(b, rows.Err())
	}
	for _, text := range searches {
		name := strings.ReplaceAll(text, " ", "_")
		terms := strings.Fields(text)
		b.Run("pawl/"+name, func(b *testing.B) {
			for b.Loop() {
				_, err := f.Find(store.Query{Text: text, Limit: 50})
				must(b, err)
				_, err = f.Find(store.Query{Limit: 1}) // so that the next search begins anew
				must(b, err)
			}
		})
		b.Run("sqlite-like/"+name, func(b *testing.B) {
			where, args := []string{}, []any{}
			for _, t := range terms {
				where, args = append(where, "found like ?"), append(args, "%"+t+"%")
			}
			for b.Loop() {
				count(b, "select number from job where "+strings.Join(where, " and ")+" order by number desc limit 50", args...)
			}
		})
		b.Run("sqlite-trigram/"+name, func(b *testing.B) {
			match := `"` + strings.Join(terms, `" "`) + `"`
			for b.Loop() {
				count(b, "select rowid from words where words match ? order by rowid desc limit 50", match)
			}
		})
	}
}

// BenchmarkLoad reads one job and folds it, the same work from both.
func BenchmarkLoad(b *testing.B) {
	f, db := openPawl(b), openSQLite(b)
	all, err := f.Jobs()
	must(b, err)
	b.Run("pawl", func(b *testing.B) {
		i := 0
		for b.Loop() {
			i++
			must(b, f.Verify(all[i%len(all)].Number))
		}
	})
	b.Run("sqlite", func(b *testing.B) {
		plan := plans(f)
		i := 0
		for b.Loop() {
			i++
			stored, err := events(db, all[i%len(all)].Number)
			must(b, err)
			_, err = job.Read(stored, false, plan)
			must(b, err)
		}
	})
}

func events(db *sql.DB, number uint64) ([][]byte, error) {
	rows, err := db.Query("select body from event where job = ? order by seq", number)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out [][]byte
	for rows.Next() {
		var body []byte
		if err := rows.Scan(&body); err != nil {
			return nil, err
		}
		out = append(out, body)
	}
	return out, rows.Err()
}

// BenchmarkVerify recomputes the digest of every event.
func BenchmarkVerify(b *testing.B) {
	f, db := openPawl(b), openSQLite(b)
	b.Run("pawl", func(b *testing.B) {
		for b.Loop() {
			v, err := f.VerifyAll(context.Background())
			must(b, err)
			if !v.Whole() {
				b.Fatal(v.Faults[0].Err)
			}
		}
	})
	b.Run("sqlite", func(b *testing.B) {
		for b.Loop() {
			must(b, verify(db))
		}
	})
}

func verify(db *sql.DB) error {
	rows, err := db.Query("select job, seq, prev, body from event order by job, seq")
	if err != nil {
		return err
	}
	defer rows.Close()
	var at job.Digest
	last := uint64(0)
	for rows.Next() {
		var number uint64
		var seq uint32
		var prev, body sql.RawBytes
		if err := rows.Scan(&number, &seq, &prev, &body); err != nil {
			return err
		}
		if number != last {
			at, last = job.Origin(number), number
		}
		if string(prev) != string(at[:]) {
			return fmt.Errorf("event %d of job %d does not fit", seq, number)
		}
		at = job.Link(at, body)
	}
	return rows.Err()
}

func must(tb testing.TB, err error) {
	tb.Helper()
	if err != nil {
		tb.Fatal(err)
	}
}

// pawlFile is the file made by the benchmarks of package store.
func pawlFile(b *testing.B) string {
	b.Helper()
	path := os.Getenv("PAWL_BENCH_FILE")
	if path == "" {
		b.Fatal("PAWL_BENCH_FILE names no file; make one first as the package comment says")
	}
	return path
}

func openPawl(b *testing.B) *store.File {
	b.Helper()
	f, err := store.Open(pawlFile(b), store.Options{Station: "bench", HashCost: store.Cost{Memory: 8, Passes: 1, Lanes: 1}})
	must(b, err)
	b.Cleanup(func() { f.Close() })
	return f
}

// dsn asks for the durability bbolt has by default: a commit is on the disk when it returns.
func dsn(path string) string {
	return "file:" + path + "?_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_pragma=busy_timeout(1000)"
}

const schema = `
create table job (number integer primary key, vehicle text, opened text, last text, outcome text, complaint text, found text);
create index job_vehicle on job (vehicle);
create table event (job integer, seq integer, prev blob, body blob, primary key (job, seq)) without rowid;
create virtual table words using fts5(text, tokenize = 'trigram', content = '');
`

var database struct {
	once sync.Once
	path string
}

// sqliteFile copies every job of the workshop file into SQLite: one row an event, with its digest, one
// row a job with what it is found by.
func sqliteFile(b *testing.B) string {
	b.Helper()
	database.once.Do(func() {
		dir, err := os.MkdirTemp("", "pawl-bench-sqlite-*")
		must(b, err)
		database.path = filepath.Join(dir, "workshop.db")
		db, err := sql.Open("sqlite", dsn(database.path))
		must(b, err)
		_, err = db.Exec(schema)
		must(b, err)
		f, err := store.Open(pawlFile(b), store.Options{ReadOnly: true})
		must(b, err)
		all, err := f.Jobs()
		must(b, err)
		for begin := 0; begin < len(all); begin += 500 {
			tx, err := db.Begin()
			must(b, err)
			for _, s := range all[begin:min(begin+500, len(all))] {
				c, err := f.Load(s.Number)
				must(b, err)
				must(b, copyJob(tx, s, c))
			}
			must(b, tx.Commit())
		}
		_, err = db.Exec("pragma wal_checkpoint(TRUNCATE)")
		must(b, errors.Join(err, db.Close(), f.Close()))
		info, err := os.Stat(database.path)
		must(b, err)
		own, err := os.Stat(pawlFile(b))
		must(b, err)
		b.Logf("%d jobs: workshop file %d MiB, SQLite %d MiB", len(all), own.Size()>>20, info.Size()>>20)
	})
	return database.path
}

func copyJob(tx *sql.Tx, s store.Summary, c *job.Card) error {
	text := questions.TagsOf(c).Text
	_, err := tx.Exec("insert into job values (?,?,?,?,?,?,?)", s.Number, s.Vehicle.ID, s.Opened.Format(time.RFC3339), s.Last.Format(time.RFC3339), s.Outcome, s.Complaint, text)
	if err != nil {
		return err
	}
	if _, err := tx.Exec("insert into words (rowid, text) values (?,?)", s.Number, text); err != nil {
		return err
	}
	insert, err := tx.Prepare("insert into event values (?,?,?,?)")
	if err != nil {
		return err
	}
	defer insert.Close()
	at := job.Origin(c.Number())
	for _, e := range c.Events {
		data, err := job.Encode(e)
		if err != nil {
			return err
		}
		if _, err := insert.Exec(s.Number, e.Seq, at[:], data); err != nil {
			return err
		}
		at = job.Link(at, data)
	}
	return nil
}

func openSQLite(b *testing.B) *sql.DB {
	b.Helper()
	db, err := sql.Open("sqlite", dsn(sqliteFile(b)))
	must(b, err)
	b.Cleanup(func() { db.Close() })
	return db
}

// plans resolves what the jobs have pinned, from the workshop file, once for each kind.
func plans(f *store.File) func(job.Opened) (*procedures.Plan, error) {
	have := map[string]*procedures.Plan{}
	return func(o job.Opened) (*procedures.Plan, error) {
		key := o.Procedure.Digest + o.Sheet.Digest
		if p := have[key]; p != nil {
			return p, nil
		}
		p, err := f.Procedure(o.Procedure.Digest)
		if err != nil {
			return nil, err
		}
		s, err := f.Sheet(o.Sheet.Digest)
		if err != nil {
			return nil, err
		}
		have[key], err = procedures.Resolve(p, s, o.Traits)
		return have[key], err
	}
}
