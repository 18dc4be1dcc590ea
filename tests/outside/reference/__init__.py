"""What the comparisons with reference engines and published tables share."""
