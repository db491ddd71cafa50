language = 1
basis "invented" {
  note = "for tests"
}
stress "heat" {
	title = "Hitze, groß, 熱", 
}
kind "ä" {
}
