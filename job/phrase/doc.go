// Package phrase holds every text that the program itself says to a person: labels, sentences,
// refusals, help. Texts of procedures and spec sheets stand in their own files, and so does the
// guide.
//
// The texts of a language are the TOML files of one folder named by its BCP 47 tag, en for English.
// Code asks for a text by its key, "area.table.name": the file, the table in it and the name in the
// table. A text is a format of package fmt; another language may put its verbs in another order by
// index (%[2]s). A text that depends on a count is a table of plural forms by the categories of
// CLDR (one, few, other …).
//
// English is the complete language. A text that another language lacks is said in English.
//
// The language is settled once, before anything is said: by PAWL_LANGUAGE, else by LC_ALL,
// LC_MESSAGES or LANG in the order of POSIX.1-2017 section 8.2. It is the one thing that a domain
// package reads from outside, so that a table of texts can be a plain package variable.
package phrase
