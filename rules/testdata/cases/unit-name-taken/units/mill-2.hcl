language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  circuit "forward" {
    feeds = ["forward"]
  }
  solenoid "shift" {
  }
}
