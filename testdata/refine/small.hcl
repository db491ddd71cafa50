# The small noisy-OR of noisy-or.R as rules: every number invented, as there.
language = 1
basis "invented" {
  note = "numbers for tests"
}
kind "part_a" {
}
kind "part_b" {
}
stress "heat" {
}
cause "towing" {
  frequency = 0.2
  stresses "heat" {
    strength = 0.6
  }
}
mode "worn_a" {
  of        = [part_a]
  frequency = 0.1
  because "heat" {
    strength = 0.5
  }
  shows "mark_f" {
    strength = 0.7
  }
}
mode "worn_b" {
  of        = [part_b]
  frequency = 0.15
  shows "mark_f" {
    strength = 0.5
  }
  shows "mark_g" {
    strength = 0.8
  }
}
finding "mark_f" {
  stage    = road
  reporter = "eye"
  leak     = 0.05
}
finding "mark_g" {
  stage    = road
  reporter = "eye"
  leak     = 0.1
}
reporter "eye" {
  hit         = 0.9
  false_alarm = 0.05
}
reporter "certain_eye" {
  hit         = 1
  false_alarm = 0
}
unit "small" {
  train {
    input  = "turbine"
    output = "output"
    gearset "one" {
      kind    = single
      sun     = "turbine"
      carrier = "output"
      ring    = "ring"
      teeth   = [30, 60]
    }
  }
  brake "low" {
    holds = "ring"
  }
  row "D" "1" {
    apply = ["low"]
    ratio = 3.00
  }
  component "a" {
    kind   = part_a
    serves = unit
  }
  component "b" {
    kind   = part_b
    serves = unit
  }
}
