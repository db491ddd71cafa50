language = "1"
