language = 1
basis "invented" {
  note = "for tests"
}
unit "bare-1" {
  train {
    input  = "in"
    output = "out"
    gearset "g" {
      kind    = single
      sun     = "sun"
      carrier = "out"
      ring    = "in"
      teeth   = [30, 70]
    }
  }
  brake "low" {
    holds = "sun"
  }
  row "D" "1" {
    apply = ["low"]
    ratio = 1.43
  }
}
