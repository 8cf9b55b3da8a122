"""Finding the slip: each kind of slip is an edit of the line's tree, judged by running the line again."""
