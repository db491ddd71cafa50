package geartrain

import "testing"

// sink keeps the compiler from dropping the work.
var sink int

// BenchmarkChanges works out every single fault in every row of a unit, from
// scratch: the largest published train, and the one with most one-way clutches.
func BenchmarkChanges(b *testing.B) {
	for _, tb := range readTables(b) {
		u := tb.unit()
		b.Run(tb.ID, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				m := mustNew(b, u)
				for _, f := range m.Faults() {
					for i := range m.Rows() {
						if !m.Change(i, f).Same {
							sink++
						}
					}
				}
				b.ReportMetric(float64(len(m.outcomes)), "solves/op")
			}
		})
	}
}

// BenchmarkStates is the same with speeds and torques of every state.
func BenchmarkStates(b *testing.B) {
	u := readTables(b)[0].unit()
	b.ReportAllocs()
	for b.Loop() {
		m := mustNew(b, u)
		for _, f := range m.Faults() {
			for i := range m.Rows() {
				if m.Under(i, f).Class == Drives {
					sink++
				}
			}
		}
	}
}

// BenchmarkChangesAgain is BenchmarkChanges with every solve in the memo.
func BenchmarkChangesAgain(b *testing.B) {
	m := mustNew(b, readTables(b)[0].unit())
	faults := m.Faults()
	b.ReportAllocs()
	for b.Loop() {
		for _, f := range faults {
			for i := range m.Rows() {
				if !m.Change(i, f).Same {
					sink++
				}
			}
		}
	}
}

// BenchmarkEliminate compares the 64-bit elimination with the one on big
// integers on one row of a published train.
func BenchmarkEliminate(b *testing.B) {
	m := mustNew(b, readTables(b)[3].unit())
	s := m.system(m.rowKey[0])
	a, cols, input := s.matrix(0, 1)
	put(a, cols, s.out, input+1, 1)
	work := make([]int64, len(a))
	b.Run("int64", func(b *testing.B) {
		for b.Loop() {
			copy(work, a)
			sink += len(reduce(work, s.n, cols, input+1).pivots)
		}
	})
	b.Run("big", func(b *testing.B) {
		for b.Loop() {
			sink += len(reduceBig(a, s.n, cols, input+1).pivots)
		}
	})
	b.Run("rational", func(b *testing.B) {
		u := readTables(b)[3].unit()
		o := newOracle(u, u.Rows[0].Apply, Fault{})
		for b.Loop() {
			sink += rank(o.rigid)
		}
	})
}
