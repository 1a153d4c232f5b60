"""What to buy, make up, re-mark, pack and check before a trip: plan plus spares, less what lies on the shelf."""
