// Package syntax reads the text of rule files. HCL's own parser does the
// reading; a guard goes over the bytes first, because a file may come from a
// stranger and that parser recurses as deep as the file says (which overflows
// the stack, and no recover catches that) and takes time and memory for
// constructs that the rule language does not have.
//
// The guard refuses templates, heredocs, for, conditionals, operators but one
// minus before a number, calls, objects and splats, each at its place and in
// plain words, and bounds the file, its depth, its numbers and the number of
// diagnostics. An argument or block with a fault is blanked out, so that one
// run tells about all of them.
//
// The tree given on holds what the rule language has, with HCL's own ranges.
// Numbers are cut from the text at these ranges, so that printed digits
// survive. Edits splice at the same ranges.
package syntax
