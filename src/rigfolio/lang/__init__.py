"""From text to lines, blocks and facts."""
