// Package records is what every store of cases has in common: the form of a
// case in a row and in an export, what is refused, the checksums, what follows
// from a case for lists and searches, and the reading of an export. A store
// adds its SQL, its locks and what its faults mean.
package records
