// Package endtoend holds tests only: they build the program and work with it in a real terminal the
// way people do, key by key, reading what stands on the screen. It must be imported by nothing, and
// of the program it imports only what a reader of the file needs (store, job, procedures): the
// screens are known here by what they show.
//
// The terminal is tmux, each test on a server of its own. Without tmux the tests are skipped;
// PAWL_ENDTOEND=required makes that a failure. A test waits for what the screen is to show and
// never for a time, but for the pauses between keys that tell a person from a scanner.
package endtoend
