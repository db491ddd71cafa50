language = 1
case "c" {
  unit = "mill-2"
}
case "d" {
  unit = "mill-2"
}
kind "x" {
}
