package store

import (
	"bytes"
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	bolt "go.etcd.io/bbolt"
	"golang.org/x/mod/sumdb/tlog"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// The leaves and roots of the original Certificate Transparency code for RFC 6962, as kept in
// transparency-dev/merkle v0.0.2, testonly/constants.go.
var rfc6962 = []struct{ leaf, hash, root string }{
	{"", "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d", "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d"},
	{"00", "96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7", "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125"},
	{"10", "0298d122906dcfc10892cb53a73992fc5b9f493ea4c9badb27b791b4127a7fe7", "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77"},
	{"2021", "07506a85fd9dd2f120eb694f86011e5bb4662e5c415a62917033d4a9624487e7", "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7"},
	{"3031", "bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b", "4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4"},
	{"40414243", "4271a26be0d8a84f0bd54c8c302e7cb3a3b5d1fa6780a40bcce2873477dab658", "76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef"},
	{"5051525354555657", "b08693ec2e721597130641e8211e7eedccb4c26413963eee6c1e2ed16ffb1a5f", "ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c"},
	{"606162636465666768696a6b6c6d6e6f", "46f6ffadd3d06a09ff3c5860d2755c8b9819db7df44251788c7d8e3180de8eb1", "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328"},
}

// The log kept in the file gives the roots of the published vectors.
func TestLogOfSealsAgainstRFC6962(t *testing.T) {
	f, _ := filled(t)
	wantError(t, f.update(func(tx *bolt.Tx) error {
		if root, err := sealRoot(tx, 0); err != nil || hex.EncodeToString(root[:]) != "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855" {
			return fmt.Errorf("the empty root is %x, %v", root, err)
		}
		for i, v := range rfc6962 {
			leaf, err := hex.DecodeString(v.leaf)
			if err != nil {
				return err
			}
			if h := tlog.RecordHash(leaf); hex.EncodeToString(h[:]) != v.hash {
				t.Errorf("leaf %d is %x", i, h)
			}
			if err := addNodes(tx, int64(i), leaf); err != nil {
				return err
			}
			root, err := sealRoot(tx, int64(i)+1)
			if err != nil {
				return err
			}
			if hex.EncodeToString(root[:]) != v.root {
				t.Errorf("the root of %d leaves is %x, want %s", i+1, root, v.root)
			}
		}
		return errors.New("leave no trace")
	}), "leave no trace")
}

// A job is sealed when it is released, again by each signature and addendum after that, and each
// seal covers everything from the first event.
func TestSealing(t *testing.T) {
	f, c := filled(t)
	openJob(t, f, "V1", "100")
	count := func(want int) []Sealed {
		t.Helper()
		all, err := f.SealsOf(1)
		must(t, err)
		if len(all) != want {
			t.Fatalf("%d seals, want %d", len(all), want)
		}
		return all
	}
	kept := func(seq, rows uint32) {
		t.Helper()
		must(t, f.view(func(tx *bolt.Tx) error {
			h, _, own, err := rawRows(tx, 1)
			if err == nil && (h.Kept != seq || len(own) != int(rows)) {
				err = fmt.Errorf("%d events are sealed and %d stand in rows, want %d and %d", h.Kept, len(own), seq, rows)
			}
			return err
		}))
		delete(f.cards, 1)
		card, err := f.Load(1)
		must(t, err)
		if card.Seq() != seq+rows {
			t.Fatalf("the job has %d events", card.Seq())
		}
	}
	do(t, f, 1, apprentice, number(1))
	do(t, f, 1, apprentice, job.Sign{Stage: measure})
	do(t, f, 1, mechanic, job.Enter{Stage: lower, Check: "down", Value: "yes"})
	do(t, f, 1, mechanic, plug("100", ""))
	do(t, f, 1, mechanic, job.Sign{Stage: lower})
	count(0)
	kept(0, 6)
	released := do(t, f, 1, foreman, job.Sign{Stage: procedures.Ref{Stage: "release"}})
	first := count(1)[0]
	if first.Events != released.Seq() || first.Head != released.Head || first.Ended != job.OutcomeReleased || first.Place != 1 {
		t.Errorf("the seal is %+v", first)
	}
	kept(released.Seq(), 0)
	c.forward(time.Hour)
	do(t, f, 1, mechanic, job.Append{Text: "the old plug is in the box"})
	do(t, f, 1, mechanic, job.Sign{Stage: procedures.Ref{Stage: "close"}})
	closed := do(t, f, 1, mechanic, job.Append{Text: "the customer rang"})
	all := count(4)
	if last := all[3]; last.Events != closed.Seq() || last.Head != closed.Head || !last.At.Equal(c.at) {
		t.Errorf("the last seal is %+v", last)
	}
	kept(closed.Seq(), 0)
	for _, s := range all {
		got, err := f.VerifyPaper(strings.ToLower(s.Short))
		must(t, err)
		if d := cmp.Diff(s, got, sameTime); d != "" {
			t.Error(d)
		}
	}
	v, err := f.VerifyAll(context.Background())
	must(t, err)
	if !v.Whole() || v.Jobs != 1 || v.Events != int(closed.Seq()) || v.Seals != 4 {
		t.Errorf("verified %+v", v)
	}
	if _, err := f.VerifyPaper(strings.Repeat("0000-", 6) + "0001"); err == nil {
		t.Error("a seal of nothing is found")
	}
}

var sameTime = cmp.Comparer(func(a, b time.Time) bool {
	return a.Equal(b) && a.Format(time.RFC3339Nano) == b.Format(time.RFC3339Nano)
})

// A job that is cancelled is sealed as well.
func TestSealOfCancelled(t *testing.T) {
	f, _ := filled(t)
	openJob(t, f, "V1", "100")
	do(t, f, 1, foreman, job.Cancel{Reason: "the customer went away"})
	all, err := f.SealsOf(1)
	must(t, err)
	if len(all) != 1 || all[0].Ended != job.OutcomeCancelled {
		t.Errorf("seals %+v", all)
	}
	if list, _ := f.Jobs(); list[0].Status != Closed || list[0].Outcome != job.OutcomeCancelled {
		t.Errorf("the line says %+v", list[0])
	}
}

// sealedFile makes a closed file with three sealed jobs and one open one, and returns the checkpoint
// after the first two.
func sealedFile(t testing.TB) (path string, c *clock, then Checkpoint) {
	t.Helper()
	c = newClock()
	path = newPath(t)
	f := open(t, path, c)
	fill(t, f)
	for n := range uint64(4) {
		v := vehicle1
		v.ID = fmt.Sprint("V", n+1)
		must(t, f.PutVehicle(mechanic, v))
		openJob(t, f, v.ID, "100")
		if n == 3 {
			do(t, f, 4, apprentice, number(1))
			break
		}
		finish(t, f, n+1)
		if n == 1 {
			var err error
			then, err = f.Checkpoint()
			must(t, err)
		}
		c.forward(time.Hour)
	}
	must(t, f.Close())
	return path, c, then
}

func TestCheckpoints(t *testing.T) {
	path, c, then := sealedFile(t)
	f := open(t, path, c)
	again, err := ParseCheckpoint(then.String())
	must(t, err)
	if d := cmp.Diff(then, again, cmp.Comparer(func(a, b time.Time) bool { return a.Equal(b) })); d != "" {
		t.Error(d)
	}
	now, err := f.Checkpoint()
	must(t, err)
	for _, p := range []Checkpoint{{Workshop: then.Workshop, Root: emptyRoot}, again, now} {
		g, err := f.VerifyAgainst(p)
		must(t, err)
		if g.New != now.Seals-p.Seals {
			t.Errorf("against %d: %+v", p.Seals, g)
		}
	}
	changed, more, other := then, now, then
	changed.Root[3] ^= 1
	more.Seals++
	other.Workshop = other.Workshop.Add(time.Second)
	sameSize := now
	sameSize.Root[0] ^= 1
	for name, p := range map[string]Checkpoint{"changed": changed, "from the future": more, "of another workshop": other, "same size": sameSize, "no empty root": {Workshop: then.Workshop}} {
		var shrunk Shrunk
		if _, err := f.VerifyAgainst(p); !errors.As(err, &shrunk) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, text := range []string{"", "a\nb\nc", then.String() + "more", strings.Replace(then.String(), "pawl", "pool", 1)} {
		if _, err := ParseCheckpoint(text); err == nil {
			t.Errorf("%q is read", text)
		}
	}
}

// Whoever changes a sealed job behind the back of this package is found out, with the event named
// where the rest of the chain tells it.
func TestTampering(t *testing.T) {
	path, c, _ := sealedFile(t)
	good := readFile(t, path)
	change := func(do func(rows []row) []row) func(tx *bolt.Tx) error {
		return func(tx *bolt.Tx) error {
			value, err := sealed.get(tx, uintKey(2))
			if err != nil {
				return err
			}
			rows, err := unpack(value)
			if err != nil {
				return err
			}
			return sealed.put(tx, uintKey(2), pack(do(rows)))
		}
	}
	forge := func(rows []row) []row { // a reading becomes another one
		rows[4].event = []byte(strings.Replace(string(rows[4].event), "100", "105", 1))
		return rows
	}
	relink := func(rows []row) []row {
		at := job.Origin(2)
		for i := range rows {
			rows[i].prev = bytes.Clone(at[:])
			at = job.Link(at, rows[i].event)
		}
		return rows
	}
	for _, tt := range []struct {
		name string
		do   func(tx *bolt.Tx) error
		want string
	}{
		{"an event changed", change(forge), "event 5 of job 2 is not what was written"},
		{"a note of a digest changed", change(func(rows []row) []row { rows[3].prev[0] ^= 1; return rows }), "event 4 of job 2 is not what was written"},
		{"events exchanged", change(func(rows []row) []row { rows[2].event, rows[3].event = rows[3].event, rows[2].event; return rows }), "event 3 of job 2 is not what was written"},
		{"the last event cut", change(func(rows []row) []row { return rows[:len(rows)-1] }), "sealed events where"},
		{"relinked", change(func(rows []row) []row { return relink(forge(rows)) }), "event 9 of job 2 is not what was written"},
		{"relinked with the head", func(tx *bolt.Tx) error {
			if err := change(func(rows []row) []row { return relink(forge(rows)) })(tx); err != nil {
				return err
			}
			h, rows, err := jobRows(tx, 2)
			if err != nil {
				return err
			}
			h.Digest = job.Origin(2)
			for _, r := range rows {
				h.Digest = job.Link(h.Digest, r.event)
			}
			return putRow(tx, heads, uintKey(2), h)
		}, "one of the events 1 to 8 of job 2 is not what was sealed"},
		{"the job gone", func(tx *bolt.Tx) error { return sealed.remove(tx, uintKey(2)) }, "sealed events of job 2 are missing"},
		{"a seal gone", func(tx *bolt.Tx) error { return seals.remove(tx, uintKey(5)) }, "hash 8 of the log of seals"},
		{"a hash changed", func(tx *bolt.Tx) error { return sealNodes.put(tx, uintKey(2), make([]byte, 32)) }, "hash 2 of the log of seals"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			copied := newPath(t)
			writeFile(t, copied, good)
			raw(t, copied, tt.do)
			f := open(t, copied, c)
			v, err := f.VerifyAll(context.Background())
			must(t, err)
			if v.Whole() {
				t.Fatal("nothing is noticed")
			}
			asDamaged(t, v.Faults[0].Err, tt.want)
		})
	}
}

// What is derived comes out of Rebuild to the byte as it was written event by event.
func TestRebuild(t *testing.T) {
	path, c, _ := sealedFile(t)
	f := open(t, path, c)
	before := dump(t, f)
	r, err := f.Rebuild(context.Background())
	must(t, err)
	if r.Jobs != 4 || r.Changed != 0 {
		t.Errorf("a whole file: %+v", r)
	}
	must(t, f.update(func(tx *bolt.Tx) error {
		for _, t := range []table{pulls, tagged, sealNodes} {
			k, _ := tx.Bucket([]byte(t)).Cursor().Last()
			if err := errors.Join(t.remove(tx, k), t.put(tx, []byte("zz"), []byte{1})); err != nil {
				return err
			}
		}
		h, _, err := getRow[head](tx, heads, uintKey(3))
		h.Summary.Complaint, h.Summary.Outcome = "nothing", ""
		return errors.Join(err, putRow(tx, heads, uintKey(3), h), tx.Bucket([]byte(tagged)).Put(uintKey(1), []byte("rot")))
	}))
	r, err = f.Rebuild(context.Background())
	must(t, err)
	if r.Changed < 7 {
		t.Errorf("a spoiled file: %+v", r)
	}
	if d := cmp.Diff(before, dump(t, f)); d != "" {
		t.Error(d)
	}
}

// dump is every row of the file.
func dump(t testing.TB, f *File) map[string]string {
	t.Helper()
	out := map[string]string{}
	must(t, f.view(func(tx *bolt.Tx) error {
		return tx.ForEach(func(name []byte, b *bolt.Bucket) error {
			return b.ForEach(func(k, v []byte) error {
				out[fmt.Sprintf("%s %x", name, k)] = hex.EncodeToString(v)
				return nil
			})
		})
	}))
	return out
}

func FuzzUnpack(f *testing.F) {
	h := job.Origin(1)
	f.Add(pack([]row{{h[:], []byte("one")}, {h[:], []byte("another")}}))
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, value []byte) {
		rows, err := unpack(value)
		if err != nil {
			return
		}
		again, err := unpack(pack(rows))
		if err != nil || len(again) != len(rows) {
			t.Fatalf("%d rows became %d, %v", len(rows), len(again), err)
		}
	})
}
