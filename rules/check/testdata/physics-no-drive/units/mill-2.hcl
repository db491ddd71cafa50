language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  row "D" "3" {
    apply = ["low"]
  }
  row "D" "4" {
    apply = ["forward", "direct", "low"]
  }
  row "N" "N" {
    apply = ["forward"]
    ratio = 1.50
  }
}
