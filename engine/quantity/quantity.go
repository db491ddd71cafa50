// Package quantity holds physical quantities as they are written on a bench:
// a number and a unit of measure ("62 psi", "0.75 mm", "18 ohm at 20 degC").
package quantity

// Dimension is what a quantity measures.
type Dimension string

// The dimensions that transmissions need.
const (
	Pressure    Dimension = "pressure"    // base kPa
	Length      Dimension = "length"      // base mm
	Resistance  Dimension = "resistance"  // base ohm
	Speed       Dimension = "speed"       // rotational, base rpm
	Temperature Dimension = "temperature" // base degC
	Voltage     Dimension = "voltage"     // base V
	Time        Dimension = "time"        // base s
	Flow        Dimension = "flow"        // base L/min
	Torque      Dimension = "torque"      // base N·m
	Volume      Dimension = "volume"      // base L
)

// Quantity is a value with its unit, kept as written.
type Quantity struct {
	Base float64 // value in the dimension's base unit
	Dim  Dimension
	Unit string // unit as written
	Text string // as written, "62 psi"
}
