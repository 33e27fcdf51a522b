"""What the program costs: `make bench` measures it; every test run does so once, quickly."""
