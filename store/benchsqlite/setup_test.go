package benchsqlite

import (
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	_ "modernc.org/sqlite"

	"bay.example/pawl/job"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

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
