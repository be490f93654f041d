// Package paper is a job on paper and as data: pure functions from a card and an Info to a Document,
// which writes itself as text for any printer or as one HTML file, and to JSON and CSV. It knows no
// clock and no disk, and must import neither store nor the program loop of the terminal.
//
//	Record, Customer            the whole job, or the page for whoever ordered it
//	Stop, NotRoadworthy         the sheet on the steering wheel; the notice instead of a release
//	HandOver, Labels            the list gone through with the driver; labels to cut out
//	Blank                       the checklist to fill in by hand
//	Period, Practice            a person's log and practice record
//	JSON, ReadJSON, CSV         the data
//
// Text from people and files passes draw.Clean everywhere but in JSON, where it is escaped; nothing
// here can steer a terminal, a browser or a spreadsheet.
//
// # Pages
//
// Every page of the text has the workshop, the job, DEMO or PRACTICE where it is so, the beginning
// of the digest with the seal, and "page x of y". HTML says the same at the head of every printed
// page; its page numbers stand in the margin, where the browser knows them.
//
// # JSON, schema pawl.job/1
//
// One object. A measured number is {"number": "95.00", "unit": "N·m"}, the number a string of the
// exact decimal as it was typed; one that is missing has both empty. Times are RFC 3339 with the
// offset of the station. Stages are "id" or "id/side"; sides are seen facing forward from the
// driver's seat.
//
//	schema, formulas     versions of this form and of the rules behind worked-out figures
//	workshop, printed, mark, seal, backup
//	job                  number, vehicle, customer, complaint, odometer, traits, procedure, sheet,
//	                     opened, outcome, release
//	digest               of the newest event; see package job for how digests run
//	events               seq, event, at, by, station; facts are the members of the event without the
//	                     empty ones; bytes is the stored form in base64, so that the digests can be
//	                     worked out again from this file alone
//	stages               each stage with its status and number of attempts
//	readings, torque, checked, figures, signatures, states, exceptions
//	                     the rows of the CSV tables
//	remarks              what the values mean, questions and answers
//	deviations, advice, promises, quarantined
//	never, may_grant     what nobody may grant, and what the foreman may
//
// # CSV
//
// The tables have the columns of the JSON rows with the same names; a measured number has a second
// column NAME_unit. Every row says its job and its mark. Lines end in CR LF (RFC 4180).
package paper
