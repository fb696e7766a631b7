"""What the statements share: words, what was said, and how both become a draft."""
