"""Views: each says who may, asks a query or an action, and renders."""
