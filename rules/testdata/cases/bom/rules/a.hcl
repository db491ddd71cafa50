language = 1
kind "gear" {
  titel = "x"
}
