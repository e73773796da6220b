"""Private copies of a built site: one sealed file, or the readable pages, under a path that nobody can guess."""
