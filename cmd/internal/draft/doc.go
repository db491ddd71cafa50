// Package draft makes a unit file from a paper chart, one question at a time:
// which train it has, what the manual calls its elements, what each row
// applies and which ratios are printed. The train comes from a unit that is
// built alike; tooth counts that are not known are found from the printed
// ratios. After each row the gear train answers what the row does.
//
// A Draft is a state machine without a face: it asks with data (Question),
// takes a line of text, and answers with data (Reply). The answers given are
// its whole state, so a draft is left and resumed by keeping them.
package draft
