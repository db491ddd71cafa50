language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  solenoid "of_direct" {
    kind     = clutch
    controls = ["direct"]
  }
  solenoid "of_low" {
    kind     = clutch
    controls = ["low"]
    rest     = applied
  }
  failsafe "D" {
    gear = "2"
  }
  failsafe "L" {
    gear     = "1"
    by_valve = ["direct"]
  }
}
