// Package store keeps a workshop in one file: its people, codes, instruments, vehicles, procedures
// and jobs. It is the only package that touches the disk or the clock. It imports job, job/register
// and procedures, never anything that draws, and it judges nothing: job.Decide does.
//
// # Layout
//
// The file is a bbolt database. Every bucket but jobs is a table of rows: a key, and a value of a
// CRC-32C over table, key and content, followed by the content. The bucket tally holds for each
// table the number of its rows and the exclusive-or of their SHA-256 sums, because bbolt keeps no
// checksum of data pages: a flipped bit, a lost row and a row too many are noticed when a table is
// read.
//
//	meta          "format" → number; "workshop" → Workshop
//	people        id → register.Person
//	codes         id → salt, hash and cost of the personal code
//	tries         id → wrong tries in a row and when the last one was
//	instruments   id → register.Instrument
//	vehicles      id → register.Vehicle
//	register-log  big-endian uint64 → who changed what when; only ever added to
//	pinned        digest → kind byte, then the canonical TOML of a procedure or a sheet
//	in-use        kind byte, id → digest
//	heads         big-endian uint64 number → number and digest of the newest event, Summary,
//	              how many events stand in sealed
//	draft         "draft" → Draft
//	sealed        big-endian uint64 number → events of a job as one compressed value
//	seals         big-endian uint64 place → text of a seal; only ever added to
//	seal-hashes   big-endian uint64 index → hash of the tree over the seals; derived
//	tagged        big-endian uint64 number → what an ended job is found by; derived
//	certificates  instrument/day/number → register.Certificate; only ever added to
//	recalls       number → questions.Recall
//	pulls         instrument, zero byte, ISO date → torque actions of that day; derived from jobs
//	jobs          big-endian uint64 number, big-endian uint32 event → digest before it, event bytes
//
// The events of a job stand in jobs until its work ends. Then the job is sealed: its number, event
// count and newest digest join the log of seals, and its events move into one value in sealed, all in
// the transaction of the last event. Later events of the job stand in jobs again until the next seal.
// The log of seals is a tree as of RFC 6962; a checkpoint of it kept elsewhere proves later that the
// file only grew. What is derived can be made anew from the rest: see Rebuild.
//
// Before every write the name of the file is held against what is open: a file moved, deleted or
// replaced meanwhile refuses the write (Gone), and a backup still copies the one that is open. When
// its disk turns read-only the file stays open for reading, and is written again as soon as it can be.
//
// Contents are deterministic CBOR (RFC 8949 section 4.2.1) with integer keys. Events are as
// package job describes them, digests included.
package store
