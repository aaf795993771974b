//! Whole pages, and what holds for any report.
