language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  train {
    input  = "turbine"
    output = "carrier"
    gearset "front" {
      kind    = single
      sun     = "sun"
      carrier = "carrier"
      ring    = "ring"
      teeth   = [60, 30]
    }
    gearset "rear" {
      kind    = triple
      sun     = "sun"
      carrier = "carrier"
      ring    = "ring"
      teeth   = [30.5, 60]
    }
  }
}
