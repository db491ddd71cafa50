language = 2
kind "gear" {
  serves = [for x in y : x]
}
