// Package command is pawl without a screen: entering, showing, listing, checking and verifying from
// the command line, questions and recalls, prints, exports and backups, the bench calculators, and
// the recorded demo. Every entry goes through the same
// store and the same rules as the screen's. The screen itself is handed in as a function: this
// package must import neither Bubble Tea nor ui/bay, and it judges nothing on its own.
//
// Results go to standard output, messages to standard error. Exit codes: 0 fine, 1 refused by a
// rule or failed, 2 misuse, 3 the file is in use by another program.
//
// # JSON in general
//
// Every form carries its version in "format"; a member is only ever added within a version. Numbers
// that decide something are strings of exact decimals: a quantity is {"number": "16.415", "unit":
// "mm"}. Counts, event numbers and places are JSON numbers. Figures out of floating point (angles,
// probabilities) are strings too, rounded; they decide nothing. Stages are written "stage" or
// "stage/side", times in RFC 3339 with milliseconds and the offset of the station. What does not
// exist is null, but members of events and entries that are empty are left out.
//
// # pawl list, format 1
//
// workshop, demo, jobs: a list, newest first, of job, vehicle {id, name, vin}, procedure, complaint,
// opened, last, last_by {id, name, role}, status ("in the bay", "paused", "released", "closed"), done
// and of (stages), open (titles of standing states), stage (the present one), second_owed, demo.
//
// # pawl show, format 1
//
//	job, status, demo, vehicle, complaint, customer, odometer, traits
//	procedure, sheet   {id, title, revision, digest}
//	opened             {seq, by, at}
//	seq, digest        of the newest event
//	paused, released   a mark or null; released with independent, outcome, note
//	open               standing states: state, title, danger, since, set_at, put_back_at
//	stages             stage, title, side, phase, status, stale_by,
//	                   attempts: no, reason, entries, second_person_checks, signed, second_owed,
//	                             no_second_available, countersigned
//	                   results: check, kind, title, missing, verdict, figures {name, value, window, verdict}
//	remarks            what the measurements mean: key, stage, text, ask
//	exceptions         what did not go straight: seq, kind, stage, text, strong
//	events             all of them in order, as below
//
// An event has seq, event (its kind in snake form: opened, entered, signed, countersigned, reopened,
// broken, paused, resumed, released and the others of package job), at, by, station and the fields
// of its body in snake form. An entry has seq, at, by, check, item, raw (as typed), value, answer,
// verdict ("inside", "outside", "not proven"), window {id, window {text, low, high}, document,
// revision, guarded}, instrument as it was then, evidence, all_at_once, source, replaces, reason,
// adapter, bolt, confirmed, and stands, replaced_by, broken.
//
// # pawl enter, format 1
//
// One JSON object a line in, one a line out; pawl enter --help lists the fields of both.
//
// # pawl reckon, format 1
//
// reckon (the calculator), given and result (objects; the help of each calculator names the members
// of its result), say (sentences), source (where the formulas come from).
//
// # pawl verify and pawl seals, format 1
//
// A job: job, events, digest, seals: a list of seal (short, as printed), place (from 1), job, events
// (how many it covers), head (digest of the last of them), at, ended. All: jobs, events, seals,
// whole, faults {job, say}. --paper: a seal as above with later_events. --against: grown, a list of
// then, now and new (numbers of seals). seals: workshop, seals, root (base64).
//
// # pawl find, format 1
//
// A question: found (a sentence), answer {question, title, args, from, to, as_of, revision, searched,
// unjudged {job, why}, columns {name, title, numeric}, rows {job, seq, cells}, notes}. Without a
// question: questions. --words: matches, searched, not_judged, span, as_of, and the members of pawl
// list. CSV has the columns of the answer between record, event and cannot_tell, found, span, as_of,
// searched, not_judged.
//
// # pawl recall, format 1
//
// as_of, recalls: a list of number, kind, title, about, opened, by, lines {vehicle, jobs, why, acts
// {at, by, act, words}}, judged {jobs, records, inside, healed, unjudged}.
//
// # pawl history, format 1
//
// as_of, history {vehicle, visits, parts, wear, roller, advice, owed, lost}.
package command
