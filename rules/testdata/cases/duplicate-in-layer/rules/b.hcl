language = 1
stress "heat" {
}
