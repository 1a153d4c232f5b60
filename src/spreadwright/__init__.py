"""Plans a high-speed trolling spread: what every rod fishes, and why it holds together."""

__version__ = "0.1.0"
