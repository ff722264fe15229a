"""What a cart can have besides, one module each; `fit` puts in what is wished for."""
