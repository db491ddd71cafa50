package wording

import (
	"fmt"
	"strings"
)

// What cannot be read of what was typed.

// StateAlone: a state comes before any finding.
func StateAlone(word string) Fault {
	return Fault{fmt.Sprintf("%q comes before any finding", word), fmt.Sprintf("write it after the finding it belongs to: slips@D/3=%s, or slips@D/3 %s", word, word)}
}

// RowAlone: a row was typed where a finding is wanted.
func RowAlone(row string) Fault {
	return Fault{row + " is a row, not a finding", fmt.Sprintf("a row is good as a whole: %s=good; what is wrong in it is a finding: slips@%s", row, row)}
}

// NoState: what follows the equal sign is not a state.
func NoState(word, state string) Fault {
	return Fault{fmt.Sprintf("%s: %q is not a valid state", word, state), "the states are present (yes), absent (no) and unknown"}
}

// NoValue: a reading without its value.
func NoValue(words []string) Fault {
	name := strings.Join(words, " ")
	return Fault{name + " has no value", fmt.Sprintf("write the number with its unit: %s 62 psi", name)}
}

// BadValue: a value that is no quantity.
func BadValue(words []string, err error) Fault {
	return Fault{What: fmt.Sprintf("%s: %v", strings.Join(words, " "), err)}
}

// MeasureWithoutValue: what was measured at a step has no value.
func MeasureWithoutValue(text string) Fault {
	return Fault{fmt.Sprintf("%s has no value", text), "write name=value with its unit: input_end_play=0.62mm"}
}

// MeasureAndMore: more was typed behind what was measured.
func MeasureAndMore(text, more string) Fault {
	return Fault{fmt.Sprintf("%q: unexpected %q", text, more), "one measure is name=value"}
}

// DriveWithoutResult: a drive that is neither good nor bad.
func DriveWithoutResult(text string) Fault {
	return Fault{text + " does not say how it went", "write the row with good or bad: D/3=good, or D/3=bad:slips_when_hot"}
}

// CauseOpen: a root cause was named without yes or no.
func CauseOpen(cause string) Fault {
	return Fault{What: fmt.Sprintf("was it %s? Say yes or no after it", cause)}
}

// CauseIsNot: a root cause is yes or no.
func CauseIsNot(cause, word string) Fault {
	return Fault{What: fmt.Sprintf("%s is yes or no, not %q", cause, word)}
}

// NoCauseNamed: no root cause was named.
func NoCauseNamed() Fault { return Fault{What: "name a root cause, and yes or no"} }

// NoEntries: what was typed is no number of an entry.
func NoEntries(text string) Fault {
	return Fault{What: fmt.Sprintf("%q is not the number of an entry or a range like 3-7", text)}
}

// NoFeatureNamed: what was seen is not said of any feature.
func NoFeatureNamed(text string) Fault {
	return Fault{fmt.Sprintf("%q names no feature", text), `write the feature with what was seen: tag=NF4-1, yoke="1.600 in", plug=yes`}
}

// What cannot be loaded.

// ShopIsFile: the shop's folder is a file.
func ShopIsFile(name string) Fault { return Fault{What: name + " is a file"} }

// NoShop: there is no such folder.
func NoShop(name string) Fault { return Fault{What: "there is no folder " + name} }

// ShopNotRead: the shop's folder cannot be read.
func ShopNotRead(err error) Fault {
	return Fault{What: "the folder of the shop's rules cannot be read: " + err.Error()}
}

// NoParts: a unit that has a chart alone.
func NoParts(unit string) Fault {
	return Fault{"unit " + unit + " has no parts, so nothing can be diagnosed", "It has a chart alone. Add to it: parts = usual"}
}

// NoUnitIn: a file without a unit.
func NoUnitIn(file string) Fault {
	return Fault{file + " holds no unit", "a unit file holds one block: unit \"name\" {"}
}

// NoDemo: there is no demo of a name.
func NoDemo(name string) string { return fmt.Sprintf("there is no demo %q", name) }
