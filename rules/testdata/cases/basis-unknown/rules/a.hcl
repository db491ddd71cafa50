language = 1
basis "hearsay" {
}
kind "gear" {
}
