"""Reading the lane: what logged shots say of a lane and of a bowler's release."""
