language = 1
case "c" {
  unit = "mill-2"
  reports "driver" {
    present = ["slipping@D/1"]
  }
  found "forward_frictions" {
    mode  = "burned_friction"
    cause = "bad_fluid"
  }
}
