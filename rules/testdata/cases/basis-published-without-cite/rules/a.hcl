language = 1
basis "published" {
  note = "somewhere"
}
kind "gear" {
}
