// Package geartrain works out, exactly, what a gear train does: which ratio a
// row of the apply chart gives, which one-way clutches hold, whether the
// engine brakes, what torque each element carries, and what every fault makes
// of every row. No tolerance decides anything.
//
// # Speeds
//
// Every member has one unknown speed ω, the case 0. Each gearset and each
// thing that joins two members is one linear equation C·ω = 0:
//
//	single pinion   S·ω_sun + R·ω_ring − (S+R)·ω_carrier = 0
//	double pinion   S·ω_sun − R·ω_ring − (S−R)·ω_carrier = 0
//	clutch, joint   ω_A − ω_B = 0
//	brake, band     ω_A = 0
//
// A one-way clutch (A, B) demands ω_A − ω_B ≥ 0 and pushes A forward only.
// What is left is a cone V of possible motions.
//
// # Class and ratio
//
// The engine turns the input forward, the road resists the output. With the
// input at speed 1, the output's possible speeds are an interval [lo, hi]:
//
//	V has no motion with ω_in = 1   tie-up: the input cannot turn
//	lo = hi = 0                     tie-up: the output is held, the input is not
//	lo > 0                          drives at ω_out = lo (the road holds it back)
//	hi < 0                          drives in reverse at ω_out = hi
//	otherwise                       no drive: the engine revs, the vehicle stands
//
// Coasting, the engine holds back and the output runs as far ahead as it can:
// the other end of the interval. The engine brakes when both ends are equal.
//
// The ends are found by enumerating sets H of holding one-way clutches. By
// linear programming duality each inequality ω_out ≥ r·ω_in that V implies is
//
//	e_out − r·e_in = Σ μ_i·row_i + Σ_{h∈H} λ_h·row_h,  λ_h > 0
//
// for some H whose rows are independent of the others; λ are the torques of
// the clutches that hold. So "held ones have torque > 0" is checked for each
// set, and "free ones have relative speed ≥ 0" holds jointly for the best set
// without being tested one by one. Where several sets give the same end, the
// smallest is reported, then the first in the unit's order. A one-way clutch
// in parallel with an applied element is never in such a set: the element is
// taken to carry the torque, and the clutch is listed as standing.
//
// # Torques
//
// Every member is in balance: Σ λ_i·row_i + T_in·e_in + T_out·e_out = 0 with
// T_in = 1, the turbine's torque on the input, and T_out = −ratio, the load.
// λ_i·row_i is the torque with which constraint i acts on the members. Sharing
// that statics cannot settle is reported as unsettled, never guessed.
//
// # Errors
//
// New reports bad units as Problems. After that nothing fails: an index out of
// range panics, being our own mistake; a fault or element that the unit does
// not have changes nothing.
package geartrain
