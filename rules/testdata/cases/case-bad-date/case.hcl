language = 1
case "c" {
  unit = "mill-2"
  reports "driver" {
    present = ["slips@D/1"]
    at      = "yesterday"
  }
}
