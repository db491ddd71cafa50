// Package cli is the command line. Each command stands in a file of its own,
// which registers it in init; adding one is adding a file (and a script under
// testdata/script). Commands ask package desk and print with package table.
//
// Exit codes: 0 done; 1 failed (rule errors and clashing reports too); 2 wrong
// use.
package cli
