package sqlite

import (
	"context"
	"fmt"
	"math/bits"
)

// rowSet is a set of rows of cases, one bit each. Rows count from 1 without
// large gaps, so that 100,000 cases take 12 KiB.
type rowSet []uint64

func (s rowSet) add(row int64) { s[row/64] |= 1 << (row % 64) }

func (s rowSet) has(row int64) bool {
	return row >= 0 && row/64 < int64(len(s)) && s[row/64]>>(row%64)&1 == 1
}

func (s rowSet) len() (n int) {
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

// and keeps what is in t too.
func (s rowSet) and(t rowSet) {
	for i := range s {
		s[i] &= t[i]
	}
}

// without takes out what is in t.
func (s rowSet) without(t rowSet) {
	for i := range s {
		s[i] &^= t[i]
	}
}

func (s rowSet) rows() []int64 {
	out := make([]int64, 0, s.len())
	for i, w := range s {
		for ; w != 0; w &= w - 1 {
			out = append(out, int64(i)*64+int64(bits.TrailingZeros64(w)))
		}
	}
	return out
}

// gather runs a query that gives one text, the rows of cases with commas
// between them or NULL for none, and makes a set of it. A row by itself costs
// five times as much to fetch as to find. Top is the largest row there is.
func (b *Book) gather(ctx context.Context, tx *txn, top int64, query string, args ...any) (rowSet, error) {
	var list []byte
	if err := tx.QueryRowContext(ctx, query, args...).Scan(&list); err != nil {
		return nil, err
	}
	out := make(rowSet, top/64+1)
	err := b.eachRow(list, func(row int64) error {
		if row > top {
			return b.damaged(fmt.Sprintf("an index names row %d of %d cases", row, top))
		}
		out.add(row)
		return nil
	})
	return out, err
}

// eachRow goes through a list of rows with commas between them.
func (b *Book) eachRow(list []byte, f func(row int64) error) error {
	for len(list) > 0 {
		var row int64
		i := 0
		for ; i < len(list) && list[i] != ','; i++ {
			d := list[i] - '0'
			if d > 9 || i >= 18 {
				return b.damaged("an index names a row that is no natural number")
			}
			row = 10*row + int64(d)
		}
		if err := f(row); err != nil {
			return err
		}
		list = list[min(i+1, len(list)):]
	}
	return nil
}
