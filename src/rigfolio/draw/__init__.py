"""Pages as drawing lists, and what turns them into PDF, SVG and PNG."""
