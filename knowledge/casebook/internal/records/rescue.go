package records

import (
	"bufio"
	"fmt"
	"io"
	"slices"

	"slipcase/engine"
)

// WriteCases writes what could be saved as an export, and says how much it is.
func WriteCases(w io.Writer, saved []engine.CaseRecord) (cases, entries int, err error) {
	slices.SortFunc(saved, func(a, b engine.CaseRecord) int { return CompareIDs(a.ID, b.ID) })
	for _, rec := range saved {
		entries += len(rec.Entries)
	}
	out := bufio.NewWriterSize(w, 1<<16)
	head := HeadLine{Kind: ExportKind, Format: ExportFormat, Cases: int64(len(saved)), Entries: int64(entries)}
	if err := WriteLine(out, head); err != nil {
		return 0, 0, err
	}
	for _, rec := range saved {
		if err := WriteCase(out, rec); err != nil {
			return 0, 0, err
		}
	}
	return len(saved), entries, out.Flush()
}

// WithEarlier ends a case before the entry that refers to a case which is lost:
// no casebook would take it.
func WithEarlier(saved []engine.CaseRecord, lost []engine.RescueLoss) ([]engine.CaseRecord, []engine.RescueLoss) {
	here := map[string]bool{}
	for _, rec := range saved {
		here[rec.ID] = true
	}
	for i, rec := range saved {
		for j, e := range rec.Entries {
			if earlier := earlierOf(e.Body); earlier != "" && !here[earlier] {
				saved[i].Entries = rec.Entries[:j]
				lost = append(lost, engine.RescueLoss{ID: rec.ID, After: int64(j), Why: fmt.Sprintf("it refers to case %s as the one that came back, which is lost", earlier)})
				break
			}
		}
	}
	return saved, lost
}
