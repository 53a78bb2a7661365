module example.org/pithball

go 1.26
