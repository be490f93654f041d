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
//	heads         big-endian uint64 number → number and digest of the newest event, Summary
//	draft         "draft" → Draft
//	pulls         instrument, zero byte, ISO date → torque actions of that day; derived from jobs
//	jobs          big-endian uint64 number, big-endian uint32 event → digest before it, event bytes
//
// Contents are deterministic CBOR (RFC 8949 section 4.2.1) with integer keys. Events are as
// package job describes them, digests included.
package store
