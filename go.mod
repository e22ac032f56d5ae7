module slipcase

go 1.26
