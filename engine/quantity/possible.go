package quantity

// Impossible is why no instrument can read a value.
type Impossible string

// The reasons; "" stands for a value that can be.
const (
	BelowZero    Impossible = "below zero"
	BeyondVacuum Impossible = "beyond 29.92 inHg of vacuum"
)

// atmosphere is the standard atmosphere in kPa, 29.92 inHg (NIST Special
// Publication 811, appendix B.8: 101.325 kPa, exact).
const atmosphere = 101.325

// IsVacuum tells a pressure that is written in the unit of vacuum gauges.
func (q Quantity) IsVacuum() bool { return q.Dim == Pressure && q.Unit == "inHg" }

// Impossible tells why a reading cannot be, "" where it can. vacuum says that a
// pressure is read as vacuum below the air's pressure, with either sign; other
// pressures are gauge pressures of a fluid that is pushed, never below zero.
// Lengths, voltages and torques have both signs; Parse refuses temperatures below
// absolute zero.
func (q Quantity) Impossible(vacuum bool) Impossible {
	switch q.Dim {
	case Pressure:
		switch {
		case vacuum && (q.Base > atmosphere*1.0005 || q.Base < -atmosphere*1.0005): // 29.92 is rounded
			return BeyondVacuum
		case !vacuum && q.Base < 0:
			return BelowZero
		}
	case Resistance, Speed, Time, Flow, Volume, Distance:
		if q.Base < 0 {
			return BelowZero
		}
	}
	return ""
}
