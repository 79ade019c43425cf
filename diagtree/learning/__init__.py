"""What authors learn about their trees: walking a draft, comparing two versions, counting finished machines."""
