// Package table prints text and tables at the width of the terminal. Nothing
// that it prints is wider than the page: prose is wrapped at spaces, long
// names at their joints (/ _ @ - , .) and, where nothing else helps, anywhere.
// Color goes only to a terminal, and never says anything that the words do
// not say as well.
package table
