# The later series of four-gearset-8: another fourth gear set, so that first and
# second are shorter. The chart is the same.
language = 1
basis "recalled" {
  note = "ratios of the series as printed in its maker's data, from memory; tooth counts that give them"
}

unit "four-gearset-8b" {
  title = "Eight-speed with four simple gear sets, later series"
  like  = "four-gearset-8"
  train {
    gearset "fourth" { teeth = [28, 104] }
  }
  row "R" "R" { ratio = -3.317 }
  row "D" "1" { ratio = 4.714 }
  row "D" "2" { ratio = 3.143 }
  row "D" "3" { ratio = 2.106 }
  row "D" "4" { ratio = 1.667 }
  row "D" "5" { ratio = 1.285 }
  row "D" "7" { ratio = 0.839 }
  row "D" "8" { ratio = 0.667 }
}
