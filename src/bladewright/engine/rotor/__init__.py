"""The turning blade as a whole: air, hover, and what loads the pitch control. Moments nose-up positive."""
