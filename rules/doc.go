// Package rules loads the rule language into the nouns of engine.
//
// The way of a file: syntax reads it (and refuses what the language does not
// have), overlay lays the layers over one another, shape compares each block
// with the table in spec.go, decode fills the nouns, resolve looks up every
// name. Each stage goes on after a fault with a placeholder, so that one run
// tells all. Diagnostics come sorted by file and place.
//
// A Diagnostic is for the author of a file; a panic would be our own bug;
// Load returns no error, for what can go wrong is in a file.
package rules
