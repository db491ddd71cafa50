language = 1
