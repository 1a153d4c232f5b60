"""A rod's chain from reel to hook: what it tows, how strong each link is, what a strike does to it."""
