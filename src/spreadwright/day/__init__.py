"""The day at sea: light, sea, fuel and the cautions that go with them."""
