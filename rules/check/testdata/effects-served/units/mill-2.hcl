language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  component "roller" {
    serves = element.forward
  }
  component "forward_plates" {
    serves = element.low_roller
  }
}
