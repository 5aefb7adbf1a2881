module platebook

go 1.26
