language = 1
basis "invented" {
  note = "for tests"
}
code "P0731" {
  leak = 0.01
  sign "forward.slips" {
    strength = 0.5
  }
  sign "forwrd.slips" {
    strength = 0.5
  }
  sign "forward.slipped" {
    strength = 0.5
  }
  sign "*.stuck_on" {
    strength = 0.5
  }
  sign "slips@D/9" {
    strength = 0.5
  }
}
code "p0731" {
}
