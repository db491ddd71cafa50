package sqlite

import (
	"bufio"
	"context"
	"fmt"
	"io"

	"slipcase/knowledge/casebook/internal/records"
)

// Export implements engine.Casebook. What is written is counted against the
// tables themselves: a bad page of an index can hide cases, and a backup that
// lacks some of them must not look whole.
func (b *Book) Export(ctx context.Context, w io.Writer, ids ...string) error {
	return b.read(ctx, "export", func(tx *txn) error {
		head := records.HeadLine{Kind: records.ExportKind, Format: records.ExportFormat}
		each := func(f func(id string) error) error { return eachID(ctx, tx, "", f) }
		if len(ids) > 0 {
			chosen, err := records.InOrder(ids)
			if err != nil {
				return err
			}
			each = func(f func(id string) error) error {
				for _, id := range chosen {
					if err := f(id); err != nil {
						return err
					}
				}
				return nil
			}
			// Counted first; what is loaded twice is little.
			if err := each(func(id string) error {
				h, err := b.load(ctx, tx, id)
				if err == nil {
					head.Cases++
					head.Entries += int64(len(h.Rec.Entries))
				}
				return err
			}); err != nil {
				return err
			}
		} else if err := tx.QueryRowContext(ctx, "SELECT (SELECT count(*) FROM cases NOT INDEXED), (SELECT count(*) FROM entries NOT INDEXED)").Scan(&head.Cases, &head.Entries); err != nil {
			return err
		}
		out := bufio.NewWriterSize(w, 1<<16)
		if err := records.WriteLine(out, head); err != nil {
			return err
		}
		var cases, entries int64
		err := each(func(id string) error {
			h, err := b.load(ctx, tx, id)
			if err != nil {
				return err
			}
			cases++
			entries += int64(len(h.Rec.Entries))
			return records.WriteCase(out, h.Rec)
		})
		if err == nil && (cases != head.Cases || entries != head.Entries) {
			err = b.damaged(fmt.Sprintf("its tables hold %d cases with %d entries, %d with %d were found", head.Cases, head.Entries, cases, entries))
		}
		if err != nil {
			return err
		}
		return out.Flush()
	})
}
