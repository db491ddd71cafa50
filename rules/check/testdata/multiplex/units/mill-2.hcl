language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  solenoid "x" {
    kind     = clutch
    controls = ["direct", "low"]
  }
  row "D" "1L" {
    apply = ["forward", "low"]
    ratio = 1.50
  }
}
