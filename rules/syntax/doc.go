// Package syntax reads the rule language's own small part of HCL native
// syntax: arguments, blocks, strings, numbers, bare words, references with a
// dot or an index, and lists. What HCL has beyond that (templates, heredocs,
// conditionals, for, operators, calls, objects, splats) is refused while
// reading, with its place, so that a file from a stranger cannot cost more
// than its own length: one pass, no recursion deeper than MaxDepth, no memory
// beyond the tree.
//
// HCL's own parser keeps every token of a file, with two full positions each,
// and recurses as deep as the file says. Here a tree node keeps byte offsets
// only; lines and columns are looked up when somebody asks. Everything that
// this package accepts, HCL's parser accepts with the same tree: a fuzz target
// compares them.
package syntax
