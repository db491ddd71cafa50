language = 1
basis "invented" {
}
unit "split-1" {
  motor "mg1" {
  }
  train {
    input     = ["engine", "motor"]
    output    = "ring"
    generator = "sun"
    gearset "split" {
      kind    = single
      sun     = "generator"
      carrier = "engine"
      ring    = "ring"
      teeth   = [30, 78]
    }
    gearset "belt" {
      kind    = variator
      sun     = "engine"
      carrier = "case"
      ring    = "ring"
      teeth   = [40, 30]
    }
  }
  row "D" "1" {
    apply = []
    ratio = "2.6-0.4"
  }
  row "D" "2" {
    apply = []
    ratio = [2.6, 0.4]
  }
  row "D" "3" {
    apply = []
    ratio = "two"
  }
}
