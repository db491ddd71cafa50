package model

// Weighs is tells, for tests.
func (m *Model) Weighs(p Piece) float64 { return m.tells(p) }
