//! Appendix: numerical methods. No word of chemistry stands here.
