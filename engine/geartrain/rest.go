package geartrain

import "slices"

// Rest is a range with every solenoid without current, as far as its chart
// tells: against the row that is said to be in force then.
type Rest struct {
	// Row is what the table of shift solenoids gives with none on, where that is
	// another row of the range; "" where it is the same, or the table has none.
	Row string
	// Off are elements of the row said to be in force whose solenoids let them go
	// without current, On others of the range that theirs keep on. What no
	// solenoid feeds, and what the manual valve feeds past it, is as the row has it.
	Off, On []string
	// Change is what becomes of the row with these off and on.
	Change Change
}

// Agrees tells that without current the range is as it is said to be.
func (r Rest) Agrees() bool { return r.Row == "" && r.Change.Same }

// AtRest works out what a range with a failsafe gear does with every solenoid
// without current. Not ok where nothing can be said: the range has none, its row
// is not in the chart, or the controller is said to hold the gear with current.
func (m *Machine) AtRest(rng string) (r Rest, ok bool) {
	f, known := m.unit.Failsafe[rng]
	i := m.RowIndex(rng + "/" + f.Gear)
	if !known || f.Powered || i < 0 {
		return Rest{}, false
	}
	row := m.unit.Rows[i]
	if row.SolenoidsStated && len(m.shifting(row)) > 0 {
		for _, q := range m.unit.Rows {
			if q.Range == rng && q.SolenoidsStated && len(m.shifting(q)) == 0 {
				r.Row = q.Name()
			}
		}
	}
	used := map[string]bool{}
	for _, q := range m.unit.Rows {
		for _, e := range q.Apply {
			used[e] = used[e] || q.Range == rng
		}
	}
	var faults []Fault
	for _, s := range m.unit.Solenoids {
		fed, clear := m.fed(s, i)
		if !clear {
			continue
		}
		for _, e := range fed {
			has := slices.Contains(row.Apply, e)
			switch {
			case slices.Contains(f.ByValve, e) || has == s.Applied || !used[e]:
			case has:
				r.Off, faults = append(r.Off, e), append(faults, Fault{e, Dead})
			default:
				r.On, faults = append(r.On, e), append(faults, Fault{e, StaysOn})
			}
		}
	}
	r.Change = m.Change(i, faults...)
	return r, true
}
