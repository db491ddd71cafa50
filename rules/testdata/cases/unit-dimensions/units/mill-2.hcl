language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  pressure "idle" "N" {
    low = "3 mm"
  }
  pressure "load" "X" {
    high = "60 psy"
  }
  limit "gap" {
    low  = "0.5 mm"
    high = "0.4 mm"
  }
  limit "coil" {
    low  = "18 ohm at 20 degC"
    high = "22 ohm"
  }
  limit "wear" {
    low  = "1 mm"
    high = "3 V"
  }
  limit "none" {
  }
}
