language = 1
kind "gear" {
  title = "a‮b"
}
