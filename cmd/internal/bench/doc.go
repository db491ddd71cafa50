// Package bench is the page for a tablet beside the unit: the same answers as
// the command line, as pages that work without a script, by touch and by
// keyboard. A small script keeps what was typed when the connection is cut,
// sends it later, once, and shows what another tablet wrote. Who may ask
// stands in gate.go; every page and every entry stands in routes (server.go).
package bench
