// Package bay is the full-screen program at the bay: Run shows it for an open workshop file. It
// imports store, job, ui/draw, ui/paper and ui/reckon; nothing imports it but main. Types of the terminal
// library stay in root.go, idle.go, call.go, drafts.go, keys.go and signals.go: no screen knows them.
//
// # How to add a screen
//
// Write a type with the methods of Screen (screen.go), as a pointer, one file per screen, and a
// constructor. It gets every input in Update and answers with an Action: Push another screen, Pop,
// Call the store, Ask a dialog, Say a sentence. A key it has no use for it answers with Unknown, and
// the root says so in words; ignore(in) does that for everything that is left over.
//
//   - Shown comes when the screen is put on top or uncovered: return a Call there that reads what the
//     screen shows. The Call comes back as Result with its Name. Until then View must cope with
//     nothing loaded. While a Call is out no key arrives, so nothing is recorded twice.
//   - Do of a Call runs elsewhere: capture values (e.Actor(), strings), never the screen or the Env.
//   - Facts (workshop, register) come with the Env and are read anew with every Call.
//   - View returns at most w by h cells; the root pads, cuts, and draws the first row, the status
//     line and the key bar, so a screen has h = rows of the terminal - 3. Style pieces with
//     e.Theme.Style and join them; never style what is styled already.
//   - Focus says what takes characters: FocusNone (letters are commands, digits too), FocusNumber
//     (digits . , - + are for the field, letters are commands), FocusText (everything is for the
//     field; Esc steps out), FocusCode. With FocusNumber a burst from a gauge comes as Reading, with
//     any other focus as Scan; a Paste never ends an entry.
//   - Keys declares every key that does something, each key once; several keys of one binding are
//     separated by blanks ("Up Down"). Off is a sentence when it would do nothing now: the root says
//     it and the screen does not get the key. Bar puts it in the bottom row, the first ones stay in
//     view. A letter alone never writes: it opens a dialog.
//     The key ? shows all of them; the root sees to that.
//   - Half-typed text that should survive a stop: be a drafter (drafts.go).
//
// # Dialogs there are
//
//	newNotice(title, text), newPane(title, lines...)   text that scrolls; ends with nothing
//	newYesNo(title, text)                              1 yes, 2 no; Answer.Value true, only for yes
//	newChooser(title, lines, options)                  by number; Answer.Value is the index (int)
//	newWords(title, lines, want)                       one line of text; Answer.Value is the string
//	newCode(title, lines, person, do)                  personal code; Answer.Value is a vouched
//	newWho(title, lines, people, do)                   a person, then the code; the same
//	newForm(title, lines, fields)                      several lines of text; Answer.Value is []string
//
// Ask{Name, Dialog} opens one; its end comes as Answer with that Name, or not at all after Esc.
//
// # Screens others push
//
//	newFirstRun()    set up the workshop; ends with Restart{newSignIn(nil)}
//	newNewJob()      open a job; ends with Replace{newJobScreen(number)}
//	newFinished()    jobs that are done, and the read-only view of one
//	newRegister()    people, instruments, vehicles, settings, procedures and sheets
//	newJobs()        jobs in the bay
//	newWaiting()     who waits for help, what is owed, what stands open anywhere
//	newFollowUps()   what was promised at hand-over
//	newProgress()    practice record and levels; practice jobs are opened from it
//	newBench()       the calculators; ui/reckon holds them, with the words of their forms
//	newJobScreen(n)  the work on one job
//
// # What a job needs less often
//
// The key M of the job screen opens a numbered menu (jobmenu.go); its numbers never change. A row is a
// choice with what it does; then, words, pick and menu of jobask.go ask one thing after the other, and
// vouch, byForeman and byQualified end in a code while the one who works stays signed in. What was
// recorded is said by happened.
//
// # Tests
//
// start(t, ...) in harness_test.go gives a program on a temporary file with a fixed clock; keys("…")
// presses keys one by one, type_ types text, frame is the screen as text, golden compares it with
// testdata/NAME.golden (PAWL_UPDATE=1 writes). everyScreen in sizes_test.go lists the states that
// are walked through all sizes and whose keys are checked: add yours.
package bay
