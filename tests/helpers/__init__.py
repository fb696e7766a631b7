"""What several tests share: rigs to try things on, readers of what is printed, places of files."""
