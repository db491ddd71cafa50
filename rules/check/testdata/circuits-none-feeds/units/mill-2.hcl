language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  circuit "line" {
    main  = false
    feeds = ["forward"]
  }
}
