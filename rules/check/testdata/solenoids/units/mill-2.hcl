language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  solenoid "a" {
  }
  solenoid "b" {
  }
  row "D" "1" {
    solenoids = ["a"]
  }
  row "D" "2" {
    solenoids = ["a"]
  }
  failsafe "L" {
    gear = "1"
  }
}
