# One solenoid feeds the direct clutch or the low brake, as the valve of the shift
# solenoid stands. Stuck off, that valve sends the oil of 1L to the direct clutch:
# second. In first the clutch solenoid is off and second is not to be had: nothing
# follows. A solenoid of its own, with its clutch on without current, leaves no
# such state: what it does to each row is worked out.
language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  solenoid "s" {
  }
  solenoid "x" {
    kind     = clutch
    controls = ["direct", "low"]
  }
  solenoid "own" {
    kind     = clutch
    controls = ["forward"]
    rest     = applied
  }
  row "D" "1" {
    solenoids = ["s"]
  }
  row "D" "1L" {
    apply     = ["forward", "low"]
    ratio     = 1.50
    solenoids = ["s"]
  }
  row "D" "2" {
    solenoids = []
  }
  failsafe "D" {
    gear    = "1L"
    powered = true
  }
}
