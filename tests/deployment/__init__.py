"""Commands that try the image, the balancer, the monitoring and the manifests for real; none needs a daemon."""
