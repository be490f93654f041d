// Package job is the record of one job and the rules it is kept by. A job is a list of events that
// only grows: Fold turns events into a Card, the job as it stands; Decide turns what a person wants
// into new events or into every reason against it. Both are pure: time, people and instruments are
// handed in, and nothing here knows a clock, a disk or a terminal.
//
// # Byte form and digests
//
// An event is stored as deterministic CBOR (RFC 8949 section 4.2.1) with integer keys, the form
// Encode writes and Decode accepts, no other. The digest of an event is
//
//	SHA-256(digest of the event before ‖ bytes of the event)
//
// and the digest before the first event of job N is SHA-256("pawl job\n" ‖ N in decimal ‖ "\n").
// What was hashed is what is stored; nothing is encoded anew to be checked.
package job
