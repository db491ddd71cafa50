// Package edit changes numbers in a shop's own rule files in place. A number
// is replaced by splicing bytes at its own range, so that comments, layout,
// line ends and a byte order mark stay; blocks on one line are spread out
// before anything is added to them. Only a block that the shop's layer lacks
// is written anew. Before a file is replaced it is read again and compared:
// nothing but the numbers named, and the basis of these, may have changed.
// Files are replaced by renaming, after a journal has been written that takes
// them back byte for byte.
//
// Embedded knowledge is never written to: a number of it is overridden in the
// shop's folder.
package edit
