"""The bench in the browser: panels that draw the scene and send wishes."""
