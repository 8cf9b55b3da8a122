"""The lesson as one HTML file that needs no network: `document.page`."""
