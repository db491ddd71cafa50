# A relative of northfork-4: a shorter first gear, no forward accumulator, a
# thicker direct pack.
language = 1
basis "invented" {
  note = "a relative of the demo unit; no maker's figure stands here"
}

unit "northfork-4b" {
  title = "Northfork four-speed with a shorter first gear"
  like  = "northfork-4"
  train {
    gearset "short" { teeth = [28, 84] }
  }
  row "D" "1" { ratio = 3.00 }
  row "2" "1" { ratio = 3.00 }
  row "L" "1" { ratio = 3.00 }
  row "D" "2" { ratio = 1.62 }
  row "2" "2" { ratio = 1.62 }
  component "accumulator_forward" { drop = true }
  limit "direct_clearance" { between = ["1.4 mm", "2.2 mm"] }
}
